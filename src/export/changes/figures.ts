import { hoursAndMinutes } from "../durations";
import { rounded } from "../rounding";
import type { Figure } from "./figureChange";

const hoursText = (hours: number): string => hoursAndMinutes(3600 * hours);

/** Printed mass and hours: what people ask for first. */
export const massAndHours: readonly Figure[] = [
  {
    key: "massPrintedG",
    label: "printed mass",
    unit: "g",
    step: 0.1,
    inPercent: true,
    of: (report) => report.massPrintedG,
    short: (was, is) =>
      `${is > was ? "heavier" : "lighter"} by ${rounded(Math.abs(is - was), 1)} g (${was} → ${is} g)`,
  },
  {
    key: "plan.hours",
    label: "time to print",
    unit: "h",
    step: 0.01,
    inPercent: true,
    text: hoursText,
    of: (report) => report.plan?.hours,
    short: (was, is) => `${hoursText(Math.abs(is - was))} ${is > was ? "longer" : "shorter"} to print`,
  },
];

/** Box, girth play, and how it is worn. */
export const sizeAndFit: readonly Figure[] = [
  { key: "boxMm.width", label: "width", unit: "mm", step: 0.1, of: (report) => report.boxMm?.width },
  { key: "boxMm.depth", label: "depth", unit: "mm", step: 0.1, of: (report) => report.boxMm?.depth },
  { key: "boxMm.height", label: "height", unit: "mm", step: 0.1, of: (report) => report.boxMm?.height },
  {
    key: "wear.gap.girthPlayMm",
    label: "girth play",
    unit: "mm",
    step: 0.1,
    of: (report) => report.wear?.gap?.girthPlayMm,
  },
  {
    key: "wear.gap.toBareHead.leastMm",
    label: "least gap to the bare head",
    unit: "mm",
    step: 0.1,
    of: (report) => report.wear?.gap?.toBareHead?.leastMm,
  },
];

/** How it sits, what it hides, how strong it is: after the way on. */
export const wornFigures: readonly Figure[] = [
  {
    key: "wear.stayOn.nodForwardDegrees",
    label: "nod forward that it holds",
    unit: "°",
    step: 1,
    of: (report) => report.wear?.stayOn?.nodForwardDegrees,
  },
  {
    key: "wear.stayOn.nodBackDegrees",
    label: "nod back that it holds",
    unit: "°",
    step: 1,
    of: (report) => report.wear?.stayOn?.nodBackDegrees,
  },
  {
    key: "wear.weight.momentLevelNCm",
    label: "moment about the neck joint",
    unit: "N·cm",
    step: 0.1,
    of: (report) => report.wear?.weight?.momentLevelNCm,
  },
  {
    key: "wear.sight.coveredShare.both",
    label: "covered field of view",
    unit: "%",
    step: 0.1,
    of: (report) => {
      const share = report.wear?.sight?.coveredShare?.both;
      return share === undefined ? undefined : rounded(100 * share, 1);
    },
  },
  {
    key: "wear.strength.arms.0.factor",
    label: "strength of the weakest arm, times what it has to bear,",
    unit: "",
    step: 0.1,
    of: (report) => report.wear?.strength?.arms?.[0]?.factor,
  },
  {
    key: "wear.strength.thinnestNeckMm",
    label: "thinnest neck",
    unit: "mm",
    step: 0.1,
    of: (report) => report.wear?.strength?.thinnestNeckMm,
  },
  {
    key: "centreOfMassMm.right",
    label: "centre of mass to the right",
    unit: "mm",
    step: 0.1,
    of: (report) => report.centreOfMassMm?.right,
  },
  {
    key: "centreOfMassMm.forward",
    label: "centre of mass forward",
    unit: "mm",
    step: 0.1,
    of: (report) => report.centreOfMassMm?.forward,
  },
  {
    key: "centreOfMassMm.up",
    label: "centre of mass up",
    unit: "mm",
    step: 0.1,
    of: (report) => report.centreOfMassMm?.up,
  },
];

/** What a print takes besides its hours. */
export const printFigures: readonly Figure[] = [
  {
    key: "plan.grams",
    label: "filament with supports",
    unit: "g",
    step: 0.1,
    inPercent: true,
    of: (report) => report.plan?.grams,
  },
  {
    key: "filamentM",
    label: "filament of the piece",
    unit: "m",
    step: 0.1,
    inPercent: true,
    of: (report) => report.filamentM,
  },
  { key: "plan.spools", label: "spools", unit: "", step: 0, of: (report) => report.plan?.spools },
  {
    key: "plan.price",
    label: "price of the filament",
    unit: "",
    step: 0.01,
    inPercent: true,
    of: (report) => report.plan?.price,
  },
  {
    key: "plan.supports.volumeCm3",
    label: "supports",
    unit: "cm³",
    step: 0.1,
    inPercent: true,
    of: (report) => report.plan?.supports?.volumeCm3,
  },
  {
    key: "plan.supports.thinColumns",
    label: "thin columns of support",
    unit: "",
    step: 0,
    of: (report) => report.plan?.supports?.thinColumns?.length,
  },
  {
    key: "volumeCm3",
    label: "volume",
    unit: "cm³",
    step: 0.01,
    inPercent: true,
    of: (report) => (report.volumeCm3 === undefined ? undefined : rounded(report.volumeCm3, 2)),
  },
  {
    key: "areaCm2",
    label: "surface",
    unit: "cm²",
    step: 0.1,
    inPercent: true,
    of: (report) => (report.areaCm2 === undefined ? undefined : rounded(report.areaCm2, 1)),
  },
  { key: "pieces", label: "pieces of the solid", unit: "", step: 0, of: (report) => report.pieces },
  { key: "voids", label: "voids in the solid", unit: "", step: 0, of: (report) => report.voids },
];

import { hoursAndMinutes, hoursBand, metresText } from "./durations";
import type { ReportOrientation, ReportPlan } from "./planReport";
import { counted } from "./reportSentences";

/** One line about the plan of a print, ready to be read. */
export interface PlanLine {
  readonly label: string;
  readonly value: string;
  readonly tone: "good" | "note" | "warning" | "bad";
}

/** The plan as lines, in the order in which a maker asks. */
export function planLines(plan: ReportPlan): PlanLine[] {
  const { supports, proposed, props, withoutProps, pieces, finishing } = plan;
  const lines: PlanLine[] = [];
  const line = (label: string, value: string, tone: PlanLine["tone"] = "note") =>
    lines.push({ label, value, tone });
  line("Hours", hoursSentence(plan));
  line("Filament", filamentSentence(plan));
  if (plan.price !== undefined) line("Price", priceText(plan.price, plan.currency));
  line("Spools", spoolSentence(plan), plan.spools > 1 ? "warning" : "good");
  const { words, fits } = plan.orientation;
  line(
    "Way up",
    fits
      ? words
      : pieces && pieces.pieces.length > 1
        ? "in pieces, each its own way"
        : `${words}: it does not fit`,
    fits || (pieces && pieces.pieces.length > 1) ? "good" : "bad",
  );
  if (pieces && pieces.pieces.length > 1) {
    line("Pieces", `${pieces.pieces.length}, on ${counted(plan.plates.length, "plate")}`, "warning");
  }
  line("Supports", supportSentence(supports), supports.columns > 0 ? "note" : "good");
  if (supports.thinColumns.length > 0) line("Thin columns", thinSentence(plan), "warning");
  if (props) line("Props", `${counted(props.count, "neck")}, ${props.volumeCm3} cm³`, "good");
  if (withoutProps) {
    const { hours, grams, thinColumns } = withoutProps;
    line(
      "Without props",
      `${hoursAndMinutes(3600 * hours)}, ${Math.round(grams)} g, ${counted(thinColumns, "thin column")}`,
    );
  }
  if (proposed && (!props || proposed.thinColumnsAfter < props.thinColumnsAfter)) {
    line(
      "With props",
      `${counted(proposed.count, "neck")}: ${hoursAndMinutes(3600 * proposed.hours)}, ${Math.round(proposed.grams)} g, ` +
        `${proposed.thinColumnsAfter} of ${proposed.thinColumnsBefore} thin columns left`,
    );
  }
  if (plan.weakestArm) {
    const { part, factor } = plan.weakestArm;
    line("Weakest arm", `"${part}", a factor of ${factor.toFixed(1)}`, factor < 1 ? "warning" : "note");
  }
  if (finishing) {
    line(
      "Finishing",
      `${Math.round(finishing.paintAreaCm2)} cm² to paint: ${Math.round(finishing.primerMl)} ml primer, ` +
        `${Math.round(finishing.paintMl)} ml paint; ${finishing.scarCm2} cm² of scars to smooth`,
    );
  }
  return lines;
}

export const hoursSentence = ({ hours, hoursMost }: Pick<ReportPlan, "hours" | "hoursMost">): string =>
  `${hoursAndMinutes(3600 * hours)}; likely ${hoursBand(3600 * hours, 3600 * hoursMost)}`;

const filamentSentence = ({ grams, pieceGrams, metres, material }: ReportPlan): string => {
  const waste = Math.round(grams - pieceGrams);
  const more = waste > 0 ? `, ${waste} g of it for supports` : "";
  return `${Math.round(grams)} g, ${metresText(metres)} of ${material}${more}`;
};

/** A price with its currency, where it has one. */
export const priceText = (price: number, currency?: string): string =>
  currency === undefined ? price.toFixed(2) : `${price.toFixed(2)} ${currency}`;

function spoolSentence({ spools, plates }: ReportPlan): string {
  const ends = plates.flatMap(({ spoolEnds }, i) =>
    spoolEnds.map((end) => ({ ...end, where: plates.length > 1 ? `on plate ${i + 1}, ` : "" })),
  );
  if (spools <= 1) return "one is enough";
  const [first] = ends;
  const where = first
    ? `; the first ends ${first.where}in layer ${first.layer}, ${first.heightMm} mm up, after ${first.hours} h`
    : "";
  return `${spools}${where}`;
}

const supportSentence = ({ volumeCm3, contactCm2, landingCm2, columns }: ReportPlan["supports"]): string =>
  columns === 0
    ? "none needed"
    : `${volumeCm3} cm³ in ${counted(columns, "place")}, ${(contactCm2 + landingCm2).toFixed(1)} cm² touched`;

function thinSentence({ supports: { thinColumns } }: ReportPlan): string {
  const names = [...new Set(thinColumns.flatMap(({ parts }) => parts.slice(0, 1)))];
  const listed = names.length > 4 ? `${names.slice(0, 3).join(", ")} and ${names.length - 3} more` : names;
  return `${thinColumns.length}, under ${typeof listed === "string" ? listed : listed.join(", ")}`;
}

/** A figure of an orientation beside those of others. */
export interface OrientationFigure {
  readonly label: string;
  readonly value: string;
  readonly isBest: boolean;
}

/** The figures of all orientations, the same for each in the same order; the best of each is marked. */
export function orientationFigures({
  orientations,
}: Pick<ReportPlan, "orientations">): OrientationFigure[][] {
  const columns: readonly [
    label: string,
    value: (one: ReportOrientation) => number | undefined,
    text: (value: number) => string,
    best: "least" | "most",
  ][] = [
    ["Hours", ({ hours }) => hours, (hours) => `about ${hoursAndMinutes(3600 * hours)}`, "least"],
    ["Supports", ({ supportCm3 }) => supportCm3, (volume) => `${volume} cm³`, "least"],
    ["Scars", ({ contactCm2 }) => contactCm2, (area) => `${area} cm²`, "least"],
    ["Height", ({ heightMm }) => heightMm, (height) => `${height} mm`, "least"],
    ["On the plate", ({ footprintCm2 }) => footprintCm2, (area) => `${area} cm²`, "most"],
    ["Thin columns", ({ thinColumns }) => thinColumns, String, "least"],
    [
      "Weakest arm",
      ({ weakestFactor }) => weakestFactor,
      (factor) => `a factor of ${factor.toFixed(1)}`,
      "most",
    ],
  ];
  const bests = columns.map(([, value, , best]) => {
    const values = orientations.flatMap((one) => (one.fits ? (value(one) ?? []) : []));
    const [least, most] = [Math.min(...values), Math.max(...values)];
    // Where all are alike, none is the best.
    return least === most ? undefined : best === "least" ? least : most;
  });
  return orientations.map((one) => [
    ...columns.flatMap(([label, value, text], i) => {
      const own = value(one);
      return own === undefined ? [] : [{ label, value: text(own), isBest: one.fits && own === bests[i] }];
    }),
    ...(one.fits ? [] : [{ label: "Plate", value: "does not fit", isBest: false }]),
  ]);
}

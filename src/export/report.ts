import type { MassProperties } from "../checks/massProperties";
import { boxSize } from "../checks/massProperties";
import type { Material } from "../checks/material";
import type { PlateFit } from "../checks/plateFit";
import type { Printer } from "../checks/printer";
import type { Wear } from "../checks/wear";
import type { ParameterValue } from "../design/part";
import type { Message } from "../message";
import type { PrintedMass } from "../print/layers/printedMass";
import type { PrintSettings } from "../printSettings";
import type { ReportPlan } from "./planReport";
import { reportSummary } from "./reportSummary";
import { orderedKeys, rounded, significant } from "./rounding";
import { composeWear, type ReportWear } from "./wearReport";

/** Where a measure comes from: the wearer's file, the scan that is the head, or the measures that are known. */
export type MeasureSource = "given" | "scanned" | "estimated";

/** One measure of the wearer, mm. */
export interface MeasureInput {
  readonly value: number;
  readonly source: MeasureSource;
  /** Standard error of an estimate, mm. */
  readonly standardError?: number;
  /** How far off a measure that was taken may be, mm: two standard errors; absent where it is taken as exact. */
  readonly tolerance?: number;
  /** The same measure taken on the mesh of the head form, mm. */
  readonly onHead?: number;
}

/** What a report is made of: the results of the build as they are, nothing rounded. */
export interface ReportInput {
  readonly headpiece: string;
  readonly wearer: {
    readonly name: string;
    /** By name, in the order in which they are to be read: girth, length, breadth, crownHeight … */
    readonly measures: Readonly<Record<string, MeasureInput>>;
  };
  /** Room between head and piece, mm: the offset everywhere, and what hair adds to it. */
  readonly ease: { readonly offset: number; readonly hair: number };
  readonly parameters: readonly {
    readonly name: string;
    readonly value: ParameterValue;
    readonly unit: "" | "mm" | "°";
    /** The declared default, to tell what was changed. */
    readonly default: ParameterValue;
  }[];
  readonly material: Material;
  readonly print: PrintSettings;
  readonly body: MassProperties;
  readonly mass: PrintedMass;
  readonly filamentDiameter: number;
  readonly solid: {
    readonly closed: boolean;
    readonly pieces: number;
    readonly voids: number;
    readonly triangles: number;
    /** Specks left out of the solid, and their volume together, mm³. */
    readonly crumbs: { readonly count: number; readonly volume: number };
  };
  readonly plates: readonly { readonly printer: Printer; readonly fit: PlateFit }[];
  /**
   * The parts that make the piece, in the order of the design. `volume` is the part's own, mm³, before parts are
   * united: what overlaps is shared out in proportion. `length` is the path's, mm.
   */
  readonly parts: readonly {
    readonly name: string;
    readonly kind: "tube" | "solid";
    readonly length?: number;
    readonly volume: number;
  }[];
  /** What was found about fit and wear; absent where it was not looked for. */
  readonly wear?: Wear;
  /** How it is printed; absent where it was not planned. */
  readonly plan?: ReportPlan;
  /** Files in messages are best given relative to the design, so that a report reads the same on every machine. */
  readonly messages: readonly Message[];
  readonly cautions: readonly string[];
}

/** The report as data: keys carry units, values are rounded, the order never changes, and nothing tells the time. */
export interface Report {
  readonly format: "anadem-report";
  readonly formatVersion: 2;
  /** The piece in one sentence, so that a changed report reads as one where it is reviewed. */
  readonly summary: string;
  readonly headpiece: string;
  readonly wearer: string;
  readonly massPrintedG: number;
  readonly massPrintedBasis: string;
  readonly massSolidG: number;
  readonly filamentM: number;
  readonly filamentDiameterMm: number;
  readonly boxMm: { readonly width: number; readonly depth: number; readonly height: number };
  readonly centreOfMassMm: { readonly right: number; readonly forward: number; readonly up: number };
  readonly volumeCm3: number;
  readonly areaCm2: number;
  readonly closed: boolean;
  readonly pieces: number;
  readonly voids: number;
  readonly crumbsDropped: number;
  readonly crumbsDroppedMm3: number;
  readonly triangles: number;
  readonly plates: readonly ReportPlate[];
  readonly head: Readonly<Record<string, ReportMeasure>>;
  readonly easeOffsetMm: number;
  readonly girthEaseMm: number;
  readonly hairMm: number;
  readonly parameters: readonly {
    readonly name: string;
    readonly value: ParameterValue;
    readonly unit: string;
    readonly changed: boolean;
  }[];
  readonly material: { readonly name: string; readonly densityGPerCm3: number };
  readonly print: { readonly shells: number; readonly lineWidthMm: number; readonly infillPercent: number };
  readonly parts: readonly ReportPart[];
  readonly wear?: ReportWear;
  readonly plan?: ReportPlan;
  readonly messages: readonly Message[];
  readonly cautions: readonly string[];
}

export interface ReportMeasure {
  readonly valueMm: number;
  readonly source: MeasureSource;
  readonly standardErrorMm?: number;
  readonly toleranceMm?: number;
  readonly onHeadMm?: number;
}

export interface ReportPart {
  readonly name: string;
  readonly kind: "tube" | "solid";
  readonly lengthMm?: number;
  /** Share of the volume and so of the mass, 0 to 1. */
  readonly share: number;
  readonly massPrintedG: number;
}

export interface ReportPlate {
  readonly printer: string;
  readonly plate:
    | { readonly shape: "rectangular"; readonly widthMm: number; readonly depthMm: number }
    | { readonly shape: "round"; readonly diameterMm: number };
  readonly heightMm: number;
  readonly fits: boolean;
  readonly tiltDegrees: number;
  readonly turnDegrees: number;
  /** What is left on each measure; negative where too large. */
  readonly roomMm: Readonly<Record<string, number>>;
  readonly tightest: string;
  readonly excessMm: number;
}

/** Composes the report of one piece. Pure: the same input gives the same report to the last digit. */
export function composeReport(input: ReportInput): Report {
  const { body, mass, solid, ease, material, print } = input;
  const [width, depth, height] = boxSize(body.box).map((side) => rounded(side, 1));
  const [right, forward, up] = body.centre.map((value) => rounded(value, 1));
  const massPrintedG = rounded(mass.printed, 1);
  const boxMm = { width, depth, height };
  const wholeVolume = input.parts.reduce((sum, part) => sum + Math.max(0, part.volume), 0);
  return {
    format: "anadem-report",
    formatVersion: 2,
    summary: reportSummary({
      headpiece: input.headpiece,
      wearer: input.wearer.name,
      massPrintedG,
      boxMm,
      ...(input.wear && { verdict: input.wear.verdict.word }),
      ...(input.plan && { hours: input.plan.hours }),
    }),
    headpiece: input.headpiece,
    wearer: input.wearer.name,
    massPrintedG,
    massPrintedBasis: mass.basis,
    massSolidG: rounded(mass.solid, 1),
    filamentM: rounded(mass.filament, 1),
    filamentDiameterMm: rounded(input.filamentDiameter, 2),
    boxMm,
    centreOfMassMm: { right, forward, up },
    volumeCm3: significant(body.volume / 1000),
    areaCm2: significant(body.area / 100),
    closed: solid.closed,
    pieces: solid.pieces,
    voids: solid.voids,
    crumbsDropped: solid.crumbs.count,
    crumbsDroppedMm3: rounded(solid.crumbs.volume, 3),
    triangles: solid.triangles,
    plates: input.plates.map(({ printer, fit }) => plateOf(printer, fit)),
    head: Object.fromEntries(
      Object.entries(input.wearer.measures).map(([name, measure]) => [name, measureOf(measure)]),
    ),
    easeOffsetMm: rounded(ease.offset, 2),
    girthEaseMm: rounded(2 * Math.PI * ease.offset, 1),
    hairMm: rounded(ease.hair, 2),
    parameters: input.parameters.map(({ name, value, unit, default: usual }) => ({
      name,
      value: typeof value === "number" ? rounded(value, 4) : value,
      unit,
      changed: value !== usual,
    })),
    material: { name: material.name, densityGPerCm3: rounded(material.density, 4) },
    print: { shells: print.shells, lineWidthMm: rounded(print.lineWidth, 3), infillPercent: print.infill },
    parts: input.parts.map(({ name, kind, length, volume }) => {
      const share = wholeVolume > 0 ? Math.max(0, volume) / wholeVolume : 0;
      return {
        name,
        kind,
        ...(length === undefined ? {} : { lengthMm: rounded(length, 1) }),
        share: rounded(share, 4),
        massPrintedG: rounded(share * mass.printed, 1),
      };
    }),
    ...(input.wear && { wear: composeWear(input.wear) }),
    ...(input.plan && { plan: input.plan }),
    messages: input.messages.map((message) => orderedKeys(message, messageKeys)),
    cautions: [...input.cautions],
  };
}

/** The report as JSON text: two spaces, one key a line, a newline at the end, so that git shows what changed. */
export const reportJson = (report: Report): string => `${JSON.stringify(report, null, 2)}\n`;

function measureOf({ value, source, standardError, tolerance, onHead }: MeasureInput): ReportMeasure {
  return {
    valueMm: rounded(value, 1),
    source,
    ...(standardError === undefined ? {} : { standardErrorMm: rounded(standardError, 1) }),
    ...(tolerance === undefined ? {} : { toleranceMm: rounded(tolerance, 1) }),
    ...(onHead === undefined ? {} : { onHeadMm: rounded(onHead, 1) }),
  };
}

function plateOf({ name, plate, height }: Printer, fit: PlateFit): ReportPlate {
  return {
    printer: name,
    plate:
      plate.shape === "round"
        ? { shape: "round", diameterMm: plate.diameter }
        : { shape: "rectangular", widthMm: plate.width, depthMm: plate.depth },
    heightMm: height,
    fits: fit.fits,
    tiltDegrees: rounded(fit.tilt, 1),
    turnDegrees: rounded(fit.turn, 1),
    roomMm: Object.fromEntries(Object.entries(fit.room).map(([axis, room]) => [axis, rounded(room, 1)])),
    tightest: fit.tightest,
    excessMm: rounded(fit.excess, 1),
  };
}

const messageKeys = [
  "id",
  "severity",
  "text",
  "suggestion",
  "part",
  "field",
  "file",
  "line",
  "column",
  "length",
  "notes",
] as const;

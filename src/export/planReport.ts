import type { Message } from "../message";
import type { Orientation } from "../orientation";
import type { LayerTotals } from "../print/layers/filament";
import { pathKinds, timeKinds } from "../print/layers/layerPlan";
import type { FoundOrientation } from "../print/orientation/orientationSearch";
import { orientationWords } from "../print/orientation/orientationWords";
import type { PlatePrint, PrintJob, PrintPlan } from "../print/plan";
import type { PropPlan } from "../print/props/planProps";
import type { PrintSettings } from "../printSettings";
import { composePieces, type ReportPieces } from "./piecesReport";
import { orderedKeys, rounded } from "./rounding";

/** How the piece is printed, as it stands in a report: keys carry units, values are rounded. */
export interface ReportPlan {
  readonly printer: string;
  readonly material: string;
  /** What the print settings are called, and what they are. */
  readonly settingsName: string;
  readonly settings: PrintSettings;
  readonly orientation: {
    readonly choice: "as designed" | "best" | "given";
    readonly tiltDegrees: number;
    readonly towardsDegrees: number;
    readonly turnDegrees: number;
    readonly words: string;
    readonly fits: boolean;
  };
  /** Of all plates together; `hoursMost` a quarter more. */
  readonly hours: number;
  readonly hoursMost: number;
  readonly hoursBasis: string;
  readonly grams: number;
  readonly pieceGrams: number;
  readonly metres: number;
  readonly price?: number;
  readonly currency?: string;
  readonly spools: number;
  readonly weakestArm?: { readonly part: string; readonly factor: number };
  readonly plates: readonly ReportPrint[];
  readonly supports: ReportSupports;
  /** Props that are printed. */
  readonly props?: ReportProps;
  /** What the print would take without them. */
  readonly withoutProps?: Pick<ReportPrint, "hours" | "grams"> & { readonly thinColumns: number };
  /** What the plan proposes for supports that may fail. */
  readonly proposed?: ReportProps & Pick<ReportPrint, "hours" | "grams">;
  /** Ways up side by side, as designed first. */
  readonly orientations: readonly ReportOrientation[];
  readonly directionsCompared: number;
  readonly pieces?: ReportPieces;
  readonly finishing?: {
    readonly paintAreaCm2: number;
    readonly primerMl: number;
    readonly paintMl: number;
    readonly scarCm2: number;
    readonly basis: string;
  };
  readonly findings: readonly Message[];
}

/** One filled plate. */
export interface ReportPrint {
  readonly layers: number;
  readonly heightMm: number;
  readonly hours: number;
  readonly grams: number;
  readonly metres: number;
  readonly hoursByKind: Readonly<Record<string, number>>;
  readonly gramsByKind: Readonly<Record<string, number>>;
  readonly startHours: number;
  readonly spoolEnds: readonly {
    readonly spool: number;
    readonly layer: number;
    readonly heightMm: number;
    readonly hours: number;
  }[];
}

export interface ReportSupports {
  readonly volumeCm3: number;
  readonly contactCm2: number;
  readonly landingCm2: number;
  readonly columns: number;
  readonly thinColumns: readonly {
    readonly parts: readonly string[];
    readonly heightMm: number;
    readonly widthMm: number;
    readonly slenderness: number;
    readonly risk: "peels" | "topples";
  }[];
  /** What causes most, the greatest volume first. */
  readonly parts: readonly {
    readonly part: string;
    readonly volumeCm3: number;
    readonly contactCm2: number;
    readonly columns: number;
  }[];
}

export interface ReportProps {
  readonly count: number;
  readonly volumeCm3: number;
  readonly neckCm2: number;
  readonly thinColumnsBefore: number;
  readonly thinColumnsAfter: number;
  readonly parts: readonly { readonly part: string; readonly necks: number; readonly proposed: number }[];
}

export interface ReportOrientation {
  readonly names: readonly string[];
  readonly words: string;
  readonly isAsDesigned: boolean;
  readonly isChosen: boolean;
  readonly tiltDegrees: number;
  readonly towardsDegrees: number;
  readonly turnDegrees: number;
  readonly hours: number;
  readonly supportCm3: number;
  readonly contactCm2: number;
  readonly heightMm: number;
  readonly footprintCm2: number;
  readonly thinColumns: number;
  readonly weakestFactor?: number;
  readonly fits: boolean;
}

/** So many parts are named as what causes supports. */
const mostParts = 8;

/**
 * A plan as a report has it.
 * @param isInAt findings with the files as the report names them
 */
export function composePlan(
  plan: PrintPlan,
  { printer, material, parts }: Pick<PrintJob, "printer" | "material" | "parts">,
  findings: readonly Message[] = plan.findings,
): ReportPlan {
  const { choice, totals, setup } = plan;
  const { orientation, fits } = plan.chosen;
  const [plate] = plan.plates;
  const nameOf = (part: number) => parts[part]?.name ?? "what the head left";
  return {
    printer: printer.name,
    material: material.name,
    settingsName: setup.name,
    settings: setup.settings,
    orientation: {
      choice: typeof choice === "string" ? choice : "given",
      tiltDegrees: rounded(orientation.tilt, 1),
      towardsDegrees: rounded(orientation.towards, 1),
      turnDegrees: rounded(orientation.turn, 1),
      words: orientationWords(orientation),
      fits,
    },
    hours: rounded(totals.hours, 2),
    hoursMost: rounded(
      plan.plates.reduce((sum, { totals: one }) => sum + one.band.most, 0),
      2,
    ),
    hoursBasis: plate.totals.band.basis,
    grams: rounded(totals.grams, 1),
    pieceGrams: rounded(totals.pieceGrams, 1),
    metres: rounded(totals.metres, 1),
    ...(totals.price !== undefined && { price: rounded(totals.price, 2) }),
    ...(totals.price !== undefined && material.currency !== undefined && { currency: material.currency }),
    spools: totals.spools,
    ...(plan.weakest && {
      weakestArm: { part: plan.weakest.part, factor: rounded(plan.weakest.factor, 2) },
    }),
    plates: plan.plates.map(printOf),
    supports: supportsOf(plan.plates, nameOf),
    ...(plan.withoutProps && { props: propsOf(plan.plates, nameOf) }),
    ...(plan.withoutProps && {
      withoutProps: {
        ...hoursAndGrams(plan.withoutProps),
        thinColumns: plan.withoutProps
          .flatMap(({ support }) => support.columns)
          .filter(({ risk }) => risk !== undefined).length,
      },
    }),
    ...(plan.proposed && {
      proposed: {
        ...hoursAndGrams(plan.proposed),
        ...propsOf(plan.proposed, nameOf),
      },
    }),
    orientations: (plan.search?.found ?? []).map((found) => orientationOf(found, plan)),
    directionsCompared: plan.search?.compared ?? 0,
    ...(plan.pieces && { pieces: composePieces(plan.pieces, parts) }),
    ...(plan.finishing && {
      finishing: {
        paintAreaCm2: rounded(plan.finishing.paintAreaCm2, 0),
        primerMl: rounded(plan.finishing.primerMl, 1),
        paintMl: rounded(plan.finishing.paintMl, 1),
        scarCm2: rounded(plan.finishing.scarCm2, 1),
        basis: plan.finishing.basis,
      },
    }),
    findings: findings.map((finding) => orderedKeys(finding as PlanMessage, findingKeys)),
  };
}

type PlanMessage = Message & { readonly topic?: string; readonly value?: number; readonly unit?: string };
const findingKeys = [
  "id",
  "topic",
  "severity",
  "text",
  "suggestion",
  "part",
  "file",
  "line",
  "column",
  "length",
  "value",
  "unit",
  "limit",
  "at",
  "notes",
] as readonly (keyof PlanMessage)[];

function printOf({ layers, totals }: PlatePrint): ReportPrint {
  return {
    layers: layers.count,
    heightMm: rounded(layers.count * layers.layerHeight, 2),
    hours: rounded(totals.hours, 2),
    grams: rounded(totals.grams, 1),
    metres: rounded(totals.metres, 1),
    hoursByKind: Object.fromEntries(timeKinds.map((kind) => [kind, rounded(totals.hoursByKind[kind], 2)])),
    gramsByKind: Object.fromEntries(pathKinds.map((kind) => [kind, rounded(totals.gramsByKind[kind], 1)])),
    startHours: rounded(totals.startHours, 2),
    spoolEnds: totals.spoolEnds.map(({ spool, layer, height, hours }: LayerTotals["spoolEnds"][number]) => ({
      spool,
      layer: layer + 1,
      heightMm: rounded(height, 2),
      hours: rounded(hours, 1),
    })),
  };
}

function supportsOf(plates: readonly PlatePrint[], nameOf: (part: number) => string): ReportSupports {
  const supports = plates.map(({ support }) => support);
  const sum = (of: (support: PlatePrint["support"]) => number) =>
    supports.reduce((total, support) => total + of(support), 0);
  const columns = supports.flatMap((support) => support.columns);
  const byPart = new Map<string, { volume: number; contact: number; columns: number }>();
  for (const { byPart: shares } of supports) {
    for (const { part, volume, contactArea, columns: count } of shares) {
      const name = nameOf(part);
      const known = byPart.get(name) ?? { volume: 0, contact: 0, columns: 0 };
      byPart.set(name, {
        volume: known.volume + volume,
        contact: known.contact + contactArea,
        columns: known.columns + count,
      });
    }
  }
  return {
    volumeCm3: rounded(sum(({ volume }) => volume) / 1000, 2),
    contactCm2: rounded(sum(({ contactArea }) => contactArea) / 100, 2),
    landingCm2: rounded(sum(({ landingArea }) => landingArea) / 100, 2),
    columns: columns.length,
    thinColumns: columns
      .flatMap(({ risk, ...column }) => (risk ? [{ ...column, risk }] : []))
      .map(({ parts, bottom, top, width, slenderness, risk }) => ({
        parts: parts.map(nameOf),
        heightMm: rounded(top - bottom, 1),
        widthMm: rounded(width, 1),
        slenderness: rounded(slenderness, 1),
        risk,
      })),
    parts: [...byPart]
      .sort(([, a], [, b]) => b.volume - a.volume)
      .slice(0, mostParts)
      .map(([part, one]) => ({
        part,
        volumeCm3: rounded(one.volume / 1000, 2),
        contactCm2: rounded(one.contact / 100, 2),
        columns: one.columns,
      })),
  };
}

const hoursAndGrams = (plates: readonly PlatePrint[]) => ({
  hours: rounded(
    plates.reduce((sum, { totals }) => sum + totals.hours, 0),
    2,
  ),
  grams: rounded(
    plates.reduce((sum, { totals }) => sum + totals.grams, 0),
    1,
  ),
});

/** The props of all plates together. */
function propsOf(plates: readonly PlatePrint[], nameOf: (part: number) => string): ReportProps {
  const all = plates.flatMap(({ props }) => props ?? []);
  const sum = (of: (props: PropPlan) => number) => all.reduce((total, props) => total + of(props), 0);
  const byPart = new Map<number, { necks: number; proposed: number }>();
  for (const { part, necks, proposed } of all.flatMap((props) => props.byPart)) {
    const known = byPart.get(part) ?? { necks: 0, proposed: 0 };
    byPart.set(part, { necks: known.necks + necks, proposed: known.proposed + proposed });
  }
  return {
    count: sum(({ necks }) => necks.length),
    volumeCm3: rounded(sum(({ volume }) => volume) / 1000, 2),
    neckCm2: rounded(sum(({ neckArea }) => neckArea) / 100, 2),
    thinColumnsBefore: sum(({ atRisk }) => atRisk.before),
    thinColumnsAfter: sum(({ atRisk }) => atRisk.after),
    parts: [...byPart].map(([part, shares]) => ({ part: nameOf(part), ...shares })),
  };
}

function orientationOf(found: FoundOrientation, plan: PrintPlan): ReportOrientation {
  const { orientation, figures, names, fits } = found;
  return {
    names,
    words: orientationWords(orientation),
    isAsDesigned: names.includes("as designed"),
    isChosen: isSame(orientation, plan.chosen.orientation),
    tiltDegrees: rounded(orientation.tilt, 1),
    towardsDegrees: rounded(orientation.towards, 1),
    turnDegrees: rounded(orientation.turn, 1),
    hours: rounded(plan.hoursScale * figures.hours, 1),
    supportCm3: rounded(figures.supportVolume / 1000, 1),
    contactCm2: rounded(figures.contactArea / 100, 1),
    heightMm: rounded(figures.height, 1),
    footprintCm2: rounded(figures.footprint / 100, 1),
    thinColumns: figures.thinColumns,
    ...(figures.weakest !== undefined && { weakestFactor: rounded(figures.weakest, 2) }),
    fits,
  };
}

const isSame = (a: Orientation, b: Orientation): boolean =>
  Math.abs(a.tilt - b.tilt) < 0.5 &&
  (a.tilt < 0.5 || Math.abs(((a.towards - b.towards + 540) % 360) - 180) < 0.5) &&
  Math.abs(((a.turn - b.turn + 540) % 360) - 180) < 0.5;

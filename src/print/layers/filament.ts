import type { Material } from "../../checks/material";
import type { Printer } from "../../checks/printer";
import { filamentLength } from "./filamentLength";
import { type LayerPlan, type PathKind, pathKinds, type TimeKind, timeKinds } from "./layerPlan";
import type { PrintTotals } from "./printTotals";

/** Where a spool is used up while a piece is printed. */
export interface SpoolEnd {
  /** Counted from 1. */
  readonly spool: number;
  /** Layer during which it ends, counted from 0. */
  readonly layer: number;
  /** mm over the plate, to the top of that layer. */
  readonly height: number;
  /** Hours since the start, when that layer is done. */
  readonly hours: number;
}

/** Hours between which a print is likely to lie. */
export interface HoursBand {
  readonly least: number;
  readonly most: number;
  /** What it rests on, as a sentence. */
  readonly basis: string;
}

/** All that a print takes. */
export interface LayerTotals extends PrintTotals {
  readonly band: HoursBand;
  /** Supports, contact layers and brim, g. */
  readonly wasteGrams: number;
  readonly gramsByKind: Readonly<Record<PathKind, number>>;
  /** Layers alone; heating and levelling are `startHours`. */
  readonly hoursByKind: Readonly<Record<TimeKind, number>>;
  readonly startHours: number;
  readonly spoolEnds: readonly SpoolEnd[];
  /** Time (s, with the start) and filament (m) that have gone when each layer is done. */
  readonly secondsSoFar: Float64Array;
  readonly metresSoFar: Float64Array;
}

/** How much longer a print takes than its paths say: what makers see. */
const usualExcess = 0.25;

/** Grams of a volume (mm³) of a material. */
const gramsOf = (volume: number, { density }: Pick<Material, "density">): number => (volume / 1000) * density;

/**
 * Adds up a plan: hours, filament in g and m, price, spools and where each ends. Price is that of the filament where the
 * price of a kilogram is known, plus that of the hours where the price of an hour is.
 * @param gramsBefore what was printed from the same spools before: where they end depends on it
 * @throws RangeError for a density, spool or filament diameter that is not more than zero.
 */
export function layerTotals(
  plan: LayerPlan,
  material: Material,
  printer: Pick<Printer, "filamentDiameter" | "startTime" | "pricePerHour">,
  gramsBefore = 0,
): LayerTotals {
  if (!(material.spool > 0)) {
    throw new RangeError(`A spool holds ${material.spool} g: it must be more than zero.`);
  }
  const { count, layerHeight } = plan;
  const metresPerGram = filamentLength(1, material.density, printer.filamentDiameter);
  const secondsSoFar = new Float64Array(count);
  const metresSoFar = new Float64Array(count);
  const spoolEnds: SpoolEnd[] = [];
  const spoolsBefore = Math.max(0, Math.ceil((gramsBefore / material.spool) * (1 - 1e-9)) - 1);
  let seconds = printer.startTime;
  let pieceVolume = 0;
  let wasteVolume = 0;
  for (let layer = 0; layer < count; layer++) {
    for (const kind of timeKinds) seconds += plan.seconds[kind][layer];
    pieceVolume += plan.pieceVolume[layer];
    wasteVolume += plan.wasteVolume[layer];
    const grams = gramsOf(pieceVolume + wasteVolume, material);
    secondsSoFar[layer] = seconds;
    metresSoFar[layer] = grams * metresPerGram;
    const spoolNow = () => spoolsBefore + spoolEnds.length + 1;
    while (gramsBefore + grams > spoolNow() * material.spool * (1 + 1e-9)) {
      spoolEnds.push({
        spool: spoolNow(),
        layer,
        height: (layer + 1) * layerHeight,
        hours: seconds / 3600,
      });
    }
  }
  const hours = seconds / 3600;
  const grams = gramsOf(pieceVolume + wasteVolume, material);
  const price = priceOf(grams, hours, material, printer);
  return {
    grams,
    metres: grams * metresPerGram,
    pieceGrams: gramsOf(pieceVolume, material),
    wasteGrams: gramsOf(wasteVolume, material),
    hours,
    ...(price !== undefined && { price }),
    spools: spoolEnds.length + (grams > 0 ? 1 : 0),
    band: hoursBand(hours),
    gramsByKind: gramsByKind(plan, material),
    hoursByKind: sums(timeKinds, (kind) => total(plan.seconds[kind]) / 3600),
    startHours: printer.startTime / 3600,
    spoolEnds,
    secondsSoFar,
    metresSoFar,
  };
}

/** Hours between which a print of the estimated length is likely to lie. */
export function hoursBand(hours: number): HoursBand {
  return {
    least: hours,
    most: hours * (1 + usualExcess),
    basis:
      "From the length of every path, its speed, the flow limit, acceleration, corners, ways between paths and the " +
      "least time of a layer; what the printer's own control adds is not known. Makers see real hours about a quarter " +
      "over such estimates (common practice, no source).",
  };
}

/** Grams of the piece alone as printed: without supports, contact layers and brim. */
export function printedMassOfLayers(plan: LayerPlan, material: Pick<Material, "density">): number {
  return gramsOf(total(plan.pieceVolume), material);
}

function gramsByKind(plan: LayerPlan, material: Material): Record<PathKind, number> {
  const length = total(pathKinds.map((kind) => total(plan.lengths[kind])));
  const volume = total(plan.pieceVolume) + total(plan.wasteVolume);
  const line = length > 0 ? volume / length : 0;
  return sums(pathKinds, (kind) => gramsOf(total(plan.lengths[kind]) * line, material));
}

function priceOf(
  grams: number,
  hours: number,
  { pricePerKilogram }: Pick<Material, "pricePerKilogram">,
  { pricePerHour }: Pick<Printer, "pricePerHour">,
): number | undefined {
  if (pricePerKilogram === undefined && pricePerHour === undefined) return undefined;
  return (grams / 1000) * (pricePerKilogram ?? 0) + hours * (pricePerHour ?? 0);
}

function sums<Kind extends string>(kinds: readonly Kind[], of: (kind: Kind) => number): Record<Kind, number> {
  return Object.fromEntries(kinds.map((kind) => [kind, of(kind)])) as Record<Kind, number>;
}

function total(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i];
  return sum;
}

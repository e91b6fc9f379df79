import type { WeakArm } from "../../../src/print/plan";
import type {
  OrientationCandidate,
  PrintEstimate,
  PrintEvaluator,
  Variant,
} from "../../../src/print/whatIf/variant";
import { geometryKey } from "../../../src/print/whatIf/variant";
import { defaultPrintSettings } from "../../../src/printSettings";

/** A box that is printed by formula, on one of three sides, with something to hold up on each. */
export interface BoxPrint {
  readonly sides: readonly [number, number, number];
  /** Envelope of supports for each way up, mm³. */
  readonly supports: readonly number[];
  /** Factor of a solid arm for each way up. */
  readonly factors: readonly number[];
  /** mm/s of shells, of everything else. */
  readonly speeds: readonly [number, number];
  readonly layerChange: number;
  readonly spool: number;
  readonly pricePerKilogram: number;
  readonly pricePerHour: number;
}

export const aBox: BoxPrint = {
  sides: [120, 90, 60],
  supports: [40_000, 120_000, 250_000],
  factors: [6, 4.5, 5.2],
  speeds: [40, 80],
  layerChange: 2,
  spool: 350,
  pricePerKilogram: 24,
  pricePerHour: 0.5,
};

export const boxCandidates: readonly OrientationCandidate[] = [
  { name: "as designed", orientation: { tilt: 0, towards: 0, turn: 0 }, fits: true },
  { name: "on its side", orientation: { tilt: 90, towards: 0, turn: 0 }, fits: true },
  { name: "on its end", orientation: { tilt: 90, towards: 90, turn: 45 }, fits: true },
];

export const boxBase: Variant = { settings: defaultPrintSettings, orientation: 0 };

/**
 * The box by hand: walls of the shells' width all round, floors and roofs by their layers, the rest by its share. The
 * hours are lengths by speeds and a pause a layer; they fall with the layer's height where the pauses and walls outweigh
 * what thicker floors cost, which they do here.
 */
export function printBox(box: BoxPrint, { settings, orientation }: Variant): PrintEstimate {
  const [a, b, c] = box.sides;
  const [x, y, z] = [
    [a, b, c],
    [a, c, b],
    [c, b, a],
  ][orientation];
  const { layerHeight: h, lineWidth: w, shells, infill, supportShare, topLayers, bottomLayers } = settings;
  const t = shells * w;
  const core = Math.max(0, x - 2 * t) * Math.max(0, y - 2 * t);
  const skin = Math.min(z, (topLayers + bottomLayers) * h);
  const walls = (x * y - core) * z;
  const filled = core * (skin + ((z - skin) * infill) / 100);
  const support = (box.supports[orientation] * supportShare) / 100;
  const [wallSpeed, fillSpeed] = box.speeds;
  const seconds =
    walls / (w * h) / wallSpeed + (filled + support) / (w * h) / fillSpeed + (z / h) * box.layerChange;
  const grams = ((walls + filled + support) / 1000) * 1.24;
  const hours = seconds / 3600;
  const hoursPrice = hours * box.pricePerHour;
  return {
    hours,
    grams,
    metres: grams / 1.24 / 2.405,
    price: (grams / 1000) * box.pricePerKilogram + hoursPrice,
    hoursPrice,
    spools: Math.ceil(grams / box.spool),
  };
}

/** A hollow round arm of 5 mm: what is within the shells counts by its share, as the fourth power of the radius. */
export function boxArm(box: BoxPrint, { settings, orientation }: Variant): WeakArm {
  const inner = Math.max(0, 1 - (settings.shells * settings.lineWidth) / 5);
  return {
    part: "the arm",
    factor: box.factors[orientation] * (1 - inner ** 4 * (1 - settings.infill / 100)),
  };
}

export interface CountedEvaluator extends PrintEvaluator {
  readonly calls: Variant[];
  /** How often the geometry was another than the last: what an evaluator that keeps one pays for. */
  geometryChanges(): number;
}

export function boxEvaluator(box: BoxPrint = aBox): CountedEvaluator {
  const calls: Variant[] = [];
  return {
    calls,
    geometryChanges: () =>
      calls.filter((one, i) => i === 0 || geometryKey(one) !== geometryKey(calls[i - 1])).length,
    estimate(variant) {
      calls.push(variant);
      return printBox(box, variant);
    },
    weakest: (variant) => boxArm(box, variant),
  };
}

import type { PrintSettings } from "../../printSettings";
import type { VariedName } from "./variant";

/** Within what print settings are varied. Common practice, no source. */
export const sensible = {
  /** Share of the nozzle's bore. */
  layerHeight: { least: 0.25, most: 0.75 },
  shells: { least: 2, most: 6 },
  /** % */
  infill: { least: 5, most: 50 },
  /** % */
  supportShare: { least: 5, most: 50 },
} as const;

/** Shares that are usual, %. Common practice, no source. */
const usualShares = [5, 10, 15, 20, 25, 30, 40, 50];

/** Layer heights are told apart by this, mm, or a multiple where that would be many. */
const layerStep = 0.04;
const mostLayerHeights = 7;

/** Usual values of every setting that is varied, ascending, the base's own among them. */
export type UsualSteps = Readonly<Record<VariedName, readonly number[]>>;

/**
 * The values that are tried for each setting: steps of 0.04 mm for the layer, within what the nozzle lays and lower than
 * the line is wide; whole shells; usual shares of infill, and of support besides them half the base's. A support share of
 * 0 stays: nothing is held up because somebody wanted it so.
 */
export function usualSteps(base: PrintSettings, nozzle: number): UsualSteps {
  if (!(nozzle > 0 && nozzle < Infinity)) {
    throw new RangeError(`The nozzle is ${nozzle} mm: its bore must be more than zero.`);
  }
  const { layerHeight, shells, infill, supportShare, lineWidth } = base;
  const whole = Array.from(
    { length: sensible.shells.most - sensible.shells.least + 1 },
    (_, i) => sensible.shells.least + i,
  );
  const halved = supportShare / 2 >= sensible.supportShare.least ? [supportShare / 2] : [];
  return {
    layerHeight: ascending([...layerHeights(nozzle, lineWidth), layerHeight]),
    shells: ascending([...whole, shells]),
    infill: ascending([...within(usualShares, sensible.infill), infill]),
    supportShare:
      supportShare === 0
        ? [0]
        : ascending([...within(usualShares, sensible.supportShare), ...halved, supportShare]),
  };
}

function layerHeights(nozzle: number, lineWidth: number): number[] {
  const least = sensible.layerHeight.least * nozzle;
  const most = sensible.layerHeight.most * nozzle;
  for (let times = 1; ; times *= 2) {
    const step = layerStep * times;
    const first = Math.ceil(least / step - 1e-9);
    const last = Math.floor(most / step + 1e-9);
    if (last - first + 1 > mostLayerHeights) continue;
    return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) =>
      Number(((first + i) * step).toFixed(4)),
    ).filter((height) => height < lineWidth);
  }
}

const within = (values: readonly number[], { least, most }: { least: number; most: number }): number[] =>
  values.filter((value) => value >= least && value <= most);

const ascending = (values: readonly number[]): number[] =>
  [...new Set(values)].sort((one, other) => one - other);

/**
 * Of the usual values those that may serve a wish. Finer layers and denser supports are left out: they take longer, and
 * neither makes a piece stronger.
 */
export function stepsForWish(base: PrintSettings, nozzle: number): UsualSteps {
  const steps = usualSteps(base, nozzle);
  return {
    ...steps,
    layerHeight: steps.layerHeight.filter((height) => height >= base.layerHeight),
    supportShare: steps.supportShare.filter((share) => share <= base.supportShare),
  };
}

/** Of ascending steps those next to the base, at most so many on each side. */
export function stepsAround(steps: readonly number[], base: number, most: number): number[] {
  const at = steps.indexOf(base);
  return steps.slice(Math.max(0, at - most), at + most + 1).filter((value) => value !== base);
}

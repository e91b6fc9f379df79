/** Values that an axis shows, at even steps from 0. */

/** Steps that people count in: 1, 2, 5 and their tenfolds. At most `most` steps reach over `end`. */
export function evenStep(end: number, most: number): number {
  demandEnd(end, most);
  const least = end / most;
  const decade = 10 ** Math.floor(Math.log10(least));
  const times = [1, 2, 5, 10].find((candidate) => candidate * decade >= least * (1 - 1e-9)) ?? 10;
  // By division where it is below one: 3 · 0.1 is not 0.3.
  return decade < 1 ? times / Math.round(1 / decade) : times * decade;
}

const minute = 60;
const hour = 3600;
const timeSteps = [
  ...[1, 2, 5, 10, 15, 30].map((count) => count * minute),
  ...[1, 2, 3, 6, 12, 24, 48].map((count) => count * hour),
];

/** Steps of a clock: minutes, quarters, hours, days, and beyond two days even hours. At most `most` of them reach over `end`, both in s. */
export function timeStep(end: number, most: number): number {
  demandEnd(end, most);
  const step = timeSteps.find((candidate) => candidate * most >= end);
  return step ?? hour * evenStep(end / hour, most);
}

/** 0 and all whole steps up to the end. */
export const ticks = (end: number, step: number): number[] =>
  Array.from({ length: Math.floor(end / step + 1e-9) + 1 }, (_, i) => i * step);

function demandEnd(end: number, most: number): void {
  if (!(end > 0) || !Number.isFinite(end)) {
    throw new RangeError(`An axis ends at a finite number above 0, not ${end}.`);
  }
  if (!(most >= 1)) throw new RangeError(`An axis has at least one step, not ${most}.`);
}

import type { ColumnRaster } from "./columnRaster";

/** The eight cells around one, those with a side in common first: steps along a row, along a column. */
export const across = Int32Array.of(1, -1, 0, 0, 1, -1, 1, -1);
export const along = Int32Array.of(0, 0, 1, -1, 1, 1, -1, -1);

/** How far a surface that must be held up sinks at most over a step of one cell, with room for its direction. */
export function stepOf(cell: number, overhangAngle: number): number {
  return 1.5 * cell * Math.max(1, cotangent(overhangAngle));
}

export function cotangent(angle: number): number {
  return 1 / Math.tan((Math.min(90, Math.max(5, angle)) * Math.PI) / 180);
}

/** What a surface that carries itself sinks at least over a step to a cell beside, mm: half of a flank within the angle. */
export function leastSink(cell: number, overhangAngle: number): number {
  return 0.5 * cell * cotangent(overhangAngle) + 1e-3;
}

/**
 * Whether something around carries an interval: it begins lower by at least half of what a flank within the overhang
 * angle sinks over the step, and touches.
 * @param sinks See `leastSink`.
 * @param slack How far below the interval what carries it may end, mm: what a steep wall sinks over a step.
 */
export function isCarried(
  { columns, rows, first, low, high }: ColumnRaster,
  at: number,
  interval: number,
  sinks: number,
  slack = 0,
): boolean {
  const column = at % columns;
  const row = (at - column) / columns;
  const from = low[interval];
  for (let side = 0; side < 8; side++) {
    const c = column + across[side];
    const r = row + along[side];
    if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
    const highest = from - (side < 4 ? sinks : Math.SQRT2 * sinks);
    const next = r * columns + c;
    for (let i = first[next]; i < first[next + 1] && low[i] <= highest; i++) {
      if (high[i] >= from - slack) return true;
    }
  }
  return false;
}

/** How far a surface of this steepness (cosine to the vertical) sinks over a step to any cell around, mm. */
export function sinkOf(cell: number, cosine: number): number {
  return (1.5 * cell * Math.sqrt(Math.max(0, 1 - cosine * cosine))) / Math.max(cosine, 0.02);
}

import { solve } from "yalps";

/** What is sought: one number per variable in each list. */
export interface Sought {
  /** What one unit of each variable is worth. */
  readonly gain: ArrayLike<number>;
  /** What one unit of its size costs, in either direction; absent: nothing. */
  readonly toll?: ArrayLike<number>;
  /** Bounds of each: least ≤ 0 ≤ most; either may be infinite. */
  readonly least: ArrayLike<number>;
  readonly most: ArrayLike<number>;
}

/** A condition: terms · x ≥ least. Terms beyond the list's end are 0. */
export interface Row {
  readonly terms: ArrayLike<number>;
  readonly least: number;
}

export interface Found {
  readonly value: number;
  readonly x: Float64Array;
}

/**
 * By so much, twice at most, a row is relaxed, by each another share: then no two meet in the same corner, where the
 * simplex method might go round for ever (perturbation: Charnes 1952,
 * Econometrica 20(2), from memory). Numbers should be of the size of 1.
 */
export const relaxed = 1e-7;

/**
 * Solves a linear programme: the x within its bounds that meets all rows and for which the sum of gain · x − toll · |x|
 * is greatest. Undefined where no x meets the rows, or the sum has no end, or the solver gives up.
 */
export function maximise({ gain, toll, least, most }: Sought, rows: readonly Row[]): Found | undefined {
  const count = gain.length;
  // The solver's variables are never negative: x is the difference of two where it may be.
  const objective = -1;
  const constraints: [number, { min?: number; max?: number }][] = rows.map((row, i) => [
    i,
    { min: row.least - relaxed * (1 + spread(i)) },
  ]);
  const variables: [number, [number, number][]][] = [];
  for (let j = 0; j < count; j++) {
    for (const sign of [1, -1]) {
      const bound = sign > 0 ? most[j] : -least[j];
      if (bound === 0) continue;
      const terms: [number, number][] = [[objective, sign * gain[j] - (toll?.[j] ?? 0)]];
      for (let i = 0; i < rows.length; i++) {
        const term = rows[i].terms[j];
        if (term) terms.push([i, sign * term]);
      }
      if (bound < Infinity) {
        const row = rows.length + variables.length;
        constraints.push([row, { max: bound }]);
        terms.push([row, 1]);
      }
      variables.push([sign * (j + 1), terms]);
    }
  }
  const solution = solve(
    { direction: "maximize", objective, constraints, variables },
    { maxPivots: 200 + 4 * (rows.length + 2 * count) },
  );
  if (solution.status !== "optimal") return undefined;
  const x = new Float64Array(count);
  for (const [name, value] of solution.variables) x[Math.abs(name) - 1] += Math.sign(name) * value;
  return { value: solution.result, x };
}

/** Shares from 0 to 1 that are all different and evenly spread (Weyl's sequence of the golden section). */
const spread = (i: number): number => (i * 0.6180339887498949) % 1;

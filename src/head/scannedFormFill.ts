/** Sweeps of over-relaxation after which a hole is at rest to a thousandth. */
const sweeps = 240;
const overRelaxation = 1.9;
/** Samples from the rim over which what fills a hole bends into it. */
const rim = 7;
const bendings = 160;
/** Elevation below which the neck is smoothed, and over which that sets in, degrees; and how often. */
const neckBelow = -48;
const neckFade = 14;
const neckSpreads = 40;
/** Below 1/32, where the steps of the bending would grow. */
const bendStep = 0.025;

/**
 * Fills what is not a number of a whole grid of ratios to the mean head: a membrane over each hole, held by its rim (Laplace's equation, by
 * successive over-relaxation; Young 1954), that near the rim goes on as the rim does (a thin plate's equation), so
 * that no edge is seen. Under the chin, where rays graze the neck, all is smoothed. 1 everywhere where there is
 * nothing to hold it.
 * @param rows from pole to pole, both included
 */
export function filledRatios(ratios: Float64Array, columns: number, rows: number): Float64Array {
  const isHole = Uint8Array.from(ratios, (ratio) => (Number.isNaN(ratio) ? 1 : 0));
  const values = Float64Array.from(ratios);
  const grid: Grid = { columns, rows, values };
  const distance = fillFromRim(grid, isHole);
  if (distance === undefined) return values.fill(1);
  relax(grid, isHole);
  bend(grid, isHole, distance);
  smoothNeck(grid);
  return values;
}

interface Grid {
  readonly columns: number;
  readonly rows: number;
  readonly values: Float64Array;
}

/** The sample above or below, over the pole where there is none. */
function upright({ columns, rows }: Grid, i: number, j: number): number {
  if (j >= 0 && j < rows) return j * columns + i;
  const opposite = (i + columns / 2) % columns;
  return (j < 0 ? 1 : rows - 2) * columns + opposite;
}

const aside = ({ columns }: Grid, i: number, j: number): number => j * columns + ((i + columns) % columns);

/** First values of the holes, ring by ring from their rims; and how many rings from it each lies. */
function fillFromRim(grid: Grid, isHole: Uint8Array): Int32Array | undefined {
  const { columns, rows, values } = grid;
  const distance = new Int32Array(values.length).fill(-1);
  let ring: number[] = [];
  for (let k = 0; k < values.length; k++) {
    if (isHole[k]) continue;
    distance[k] = 0;
    ring.push(k);
  }
  if (ring.length === 0) return undefined;
  const neighbours = (k: number): number[] => {
    const [i, j] = [k % columns, Math.floor(k / columns)];
    const beside = [aside(grid, i - 1, j), aside(grid, i + 1, j)];
    if (j > 0) beside.push(k - columns);
    if (j < rows - 1) beside.push(k + columns);
    return beside;
  };
  for (let d = 1; ring.length > 0; d++) {
    const next: number[] = [];
    for (const k of ring) {
      for (const to of neighbours(k)) {
        if (distance[to] >= 0) continue;
        distance[to] = d;
        next.push(to);
      }
    }
    for (const k of next) {
      const known = neighbours(k).filter((from) => distance[from] >= 0 && distance[from] < d);
      values[k] = known.reduce((sum, from) => sum + values[from], 0) / known.length;
    }
    ring = next;
  }
  return distance;
}

function relax(grid: Grid, isHole: Uint8Array): void {
  const { columns, rows, values } = grid;
  const stepShare = (columns / 2 / (rows - 1)) ** 2;
  for (let sweep = 0; sweep < sweeps; sweep++) {
    for (let j = 1; j < rows - 1; j++) {
      const ce = Math.cos(Math.PI * (j / (rows - 1) - 0.5));
      const across = stepShare / (ce * ce);
      const share = 1 / (2 * across + 2);
      for (let i = 0; i < columns; i++) {
        const k = j * columns + i;
        if (isHole[k] === 0) continue;
        const before = i > 0 ? k - 1 : k + columns - 1;
        const after = i < columns - 1 ? k + 1 : k + 1 - columns;
        const level = values[before] + values[after];
        const mean = share * (across * level + values[k - columns] + values[k + columns]);
        values[k] += overRelaxation * (mean - values[k]);
      }
    }
    // A pole is one point, amid the row next to it.
    for (const [pole, next] of [
      [0, 1],
      [rows - 1, rows - 2],
    ]) {
      if (isHole[pole * columns] === 0) continue;
      const row = values.subarray(next * columns, (next + 1) * columns);
      values.fill(row.reduce((sum, value) => sum + value, 0) / columns, pole * columns, (pole + 1) * columns);
    }
  }
}

function bend(grid: Grid, isHole: Uint8Array, distance: Int32Array): void {
  const { columns, values } = grid;
  const bends = new Float64Array(values.length);
  const difference = (of: Float64Array, k: number): number => {
    const [i, j] = [k % columns, Math.floor(k / columns)];
    return (
      of[aside(grid, i - 1, j)] +
      of[aside(grid, i + 1, j)] +
      of[upright(grid, i, j - 1)] +
      of[upright(grid, i, j + 1)] -
      4 * of[k]
    );
  };
  const near: number[] = [];
  const asked: number[] = [];
  const isNear = Uint8Array.from(isHole, (hole, k) => (hole && distance[k] <= rim ? 1 : 0));
  for (let k = 0; k < values.length; k++) {
    if (isNear[k]) near.push(k);
    const [i, j] = [k % columns, Math.floor(k / columns)];
    const touches =
      isNear[k] ||
      isNear[aside(grid, i - 1, j)] ||
      isNear[aside(grid, i + 1, j)] ||
      isNear[upright(grid, i, j - 1)] ||
      isNear[upright(grid, i, j + 1)];
    if (touches) asked.push(k);
  }
  for (let n = 0; n < bendings; n++) {
    for (const k of asked) bends[k] = difference(values, k);
    for (const k of near) values[k] -= bendStep * difference(bends, k);
  }
}

/** Spreads the ratios below the chin, more with depth. */
function smoothNeck(grid: Grid): void {
  const { columns, rows, values } = grid;
  const next = Float64Array.from(values);
  for (let n = 0; n < neckSpreads; n++) {
    for (let j = 1; j < rows - 1; j++) {
      const elevation = 180 * (j / (rows - 1) - 0.5);
      if (elevation > neckBelow) break;
      const share = 0.22 * Math.min(1, (neckBelow - elevation) / neckFade);
      for (let i = 0; i < columns; i++) {
        const k = j * columns + i;
        const beside = values[aside(grid, i - 1, j)] + values[aside(grid, i + 1, j)];
        next[k] = values[k] + share * (beside + values[k - columns] + values[k + columns] - 4 * values[k]);
      }
    }
    values.set(next);
  }
}

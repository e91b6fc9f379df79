import { convexOutline, enclosingCircle } from "../../checks/plate/footprint";
import type { Plate } from "../../checks/printer";

/** A piece turned as it is printed: what of it lies over the plate. */
export interface Footprint {
  /** x, y of each corner of its triangles' shadows, mm; six numbers a triangle. */
  readonly triangles: Float64Array;
}

/** Where a footprint lies: its own x, y plus this shift, in the plate's frame, origin in the plate's middle. */
export interface Spot {
  readonly plate: number;
  readonly shift: readonly [x: number, y: number];
}

/** Side of a raster cell, mm. */
const cell = 2;

/**
 * Lays footprints on as few plates as it can, `gap` mm apart: the largest first, each at the first place that is free,
 * from the front left, on a raster. One alone lies in the middle. What is larger than the plate has one of its own.
 */
export function packFootprints(footprints: readonly Footprint[], plate: Plate, gap: number): Spot[] {
  const items = footprints.map((footprint) => rasterOf(footprint, gap));
  const order = items.map((_, i) => i).sort((a, b) => boxArea(items[b]) - boxArea(items[a]) || a - b);
  const plates: { taken: Uint8Array; items: number[] }[] = [];
  const spots = new Array<Spot>(footprints.length);
  const [width, depth] =
    plate.shape === "round" ? [plate.diameter, plate.diameter] : [plate.width, plate.depth];
  const columns = Math.ceil(width / cell) + 2;
  const rows = Math.ceil(depth / cell) + 2;
  for (const index of order) {
    const item = items[index];
    let found: Spot | undefined;
    for (let p = 0; p < plates.length && !found; p++) {
      const at = freePlace(item, plates[p].taken, columns, rows, plate);
      if (!at) continue;
      mark(item, plates[p].taken, columns, rows, at);
      plates[p].items.push(index);
      found = { plate: p, shift: shiftOf(item, at, width, depth) };
    }
    if (!found) {
      const taken = new Uint8Array(columns * rows);
      const at = freePlace(item, taken, columns, rows, plate);
      plates.push({ taken, items: [index] });
      if (at) {
        mark(item, taken, columns, rows, at);
        found = { plate: plates.length - 1, shift: shiftOf(item, at, width, depth) };
      } else {
        taken.fill(1);
        found = { plate: plates.length - 1, shift: middleOf(item, plate) };
      }
    }
    spots[index] = found;
  }
  for (const { items: own } of plates) {
    if (own.length === 1) spots[own[0]] = { ...spots[own[0]], shift: middleOf(items[own[0]], plate) };
  }
  return spots;
}

/** What spreads widest goes first, so that others find room within its bends. */
const boxArea = ({ size }: Raster): number => size[0] * size[1];

interface Raster {
  readonly columns: number;
  readonly rows: number;
  /** Cells that the footprint meets, and those within the gap of one. */
  readonly own: Uint8Array;
  readonly wide: Uint8Array;
  readonly margin: number;
  readonly least: readonly [number, number];
  readonly size: readonly [number, number];
  readonly outline: { readonly x: Float64Array; readonly y: Float64Array };
}

function rasterOf({ triangles: t }: Footprint, gap: number): Raster {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  const xs = new Float64Array(t.length / 2);
  const ys = new Float64Array(t.length / 2);
  for (let i = 0; i < t.length; i += 2) {
    xs[i / 2] = t[i];
    ys[i / 2] = t[i + 1];
    x0 = Math.min(x0, t[i]);
    x1 = Math.max(x1, t[i]);
    y0 = Math.min(y0, t[i + 1]);
    y1 = Math.max(y1, t[i + 1]);
  }
  // Cells that touch across a border are a cell apart: the gap counts from cell to cell.
  const margin = Math.ceil(gap / cell);
  const columns = Math.floor((x1 - x0) / cell) + 1 + 2 * margin;
  const rows = Math.floor((y1 - y0) / cell) + 1 + 2 * margin;
  const own = new Uint8Array(columns * rows);
  for (let i = 0; i < t.length; i += 6) {
    const p = [0, 2, 4].map((k) => [(t[i + k] - x0) / cell + margin, (t[i + k + 1] - y0) / cell + margin]);
    const [c0, c1] = [Math.min(p[0][0], p[1][0], p[2][0]), Math.max(p[0][0], p[1][0], p[2][0])];
    const [r0, r1] = [Math.min(p[0][1], p[1][1], p[2][1]), Math.max(p[0][1], p[1][1], p[2][1])];
    for (let row = Math.floor(r0); row <= Math.min(rows - 1, Math.floor(r1)); row++) {
      for (let column = Math.floor(c0); column <= Math.min(columns - 1, Math.floor(c1)); column++) {
        if (meetsCell(p, column, row)) own[row * columns + column] = 1;
      }
    }
  }
  const wide = new Uint8Array(columns * rows);
  const reach = gap / cell;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      if (own[row * columns + column] === 0) continue;
      for (let r = Math.max(0, row - margin - 1); r <= Math.min(rows - 1, row + margin + 1); r++) {
        for (let c = Math.max(0, column - margin - 1); c <= Math.min(columns - 1, column + margin + 1); c++) {
          // Least distance between two cells that lie so far apart.
          const dx = Math.max(0, Math.abs(c - column) - 1);
          const dy = Math.max(0, Math.abs(r - row) - 1);
          if (dx * dx + dy * dy < reach * reach) wide[r * columns + c] = 1;
        }
      }
    }
  }
  return {
    columns,
    rows,
    own,
    wide,
    margin,
    least: [x0, y0],
    size: [x1 - x0, y1 - y0],
    outline: convexOutline(xs, ys),
  };
}

/** Whether a triangle meets the unit cell at a column and row: no side of it has the whole cell beyond (separating axes). */
function meetsCell(p: readonly number[][], column: number, row: number): boolean {
  const twice = (p[1][0] - p[0][0]) * (p[2][1] - p[0][1]) - (p[1][1] - p[0][1]) * (p[2][0] - p[0][0]);
  if (twice === 0) return true;
  const sign = twice > 0 ? 1 : -1;
  for (let i = 0; i < 3; i++) {
    const [a, b] = [p[i], p[(i + 1) % 3]];
    const [nx, ny] = [sign * (a[1] - b[1]), sign * (b[0] - a[0])];
    const x = nx > 0 ? column + 1 : column;
    const y = ny > 0 ? row + 1 : row;
    if (nx * (x - a[0]) + ny * (y - a[1]) < 0) return false;
  }
  return true;
}

/** The cell of the plate on which the piece's own first cell may lie. */
function freePlace(
  item: Raster,
  taken: Uint8Array,
  columns: number,
  rows: number,
  plate: Plate,
): readonly [number, number] | undefined {
  const [width, depth] =
    plate.shape === "round" ? [plate.diameter, plate.diameter] : [plate.width, plate.depth];
  for (let row = 0; row * cell + item.size[1] <= depth + 1e-6; row++) {
    for (let column = 0; column * cell + item.size[0] <= width + 1e-6; column++) {
      if (plate.shape === "round" && !liesWithin(item, [column, row], plate.diameter)) continue;
      if (isFree(item, taken, columns, rows, column, row)) return [column, row];
    }
  }
  return undefined;
}

function liesWithin(item: Raster, at: readonly [number, number], diameter: number): boolean {
  const [sx, sy] = shiftOf(item, at, diameter, diameter);
  const { x, y } = item.outline;
  for (let i = 0; i < x.length; i++) if (Math.hypot(x[i] + sx, y[i] + sy) > diameter / 2 + 1e-6) return false;
  return true;
}

function isFree(item: Raster, taken: Uint8Array, columns: number, rows: number, column: number, row: number) {
  for (let r = 0; r < item.rows; r++) {
    const to = row + r - item.margin;
    if (to < 0 || to >= rows) continue;
    for (let c = 0; c < item.columns; c++) {
      if (item.own[r * item.columns + c] === 0) continue;
      const at = column + c - item.margin;
      if (at >= 0 && at < columns && taken[to * columns + at] === 1) return false;
    }
  }
  return true;
}

function mark(
  item: Raster,
  taken: Uint8Array,
  columns: number,
  rows: number,
  [column, row]: readonly [number, number],
): void {
  for (let r = 0; r < item.rows; r++) {
    const to = row + r - item.margin;
    if (to < 0 || to >= rows) continue;
    for (let c = 0; c < item.columns; c++) {
      const at = column + c - item.margin;
      if (at >= 0 && at < columns && item.wide[r * item.columns + c] === 1) taken[to * columns + at] = 1;
    }
  }
}

const shiftOf = (
  { least }: Raster,
  [column, row]: readonly [number, number],
  width: number,
  depth: number,
): [number, number] => [column * cell - width / 2 - least[0], row * cell - depth / 2 - least[1]];

function middleOf({ least, size, outline }: Raster, plate: Plate): [number, number] {
  if (plate.shape === "rectangular") return [-least[0] - size[0] / 2, -least[1] - size[1] / 2];
  const [x, y] = enclosingCircle(outline).centre;
  return [-x, -y];
}

/** How many plates spots lie on. */
export const plateCount = (spots: readonly Spot[]): number =>
  spots.reduce((most, { plate }) => Math.max(most, plate + 1), 0);

import type { TriangleMesh } from "../../geometry/mesh";
import { mostKept, Scratch } from "./scratch";

/** Where the uprights through the middles of a grid's cells run inside a solid. */
export interface ColumnRaster {
  /** Side of a cell, mm. */
  readonly cell: number;
  /** Corner of cell (0, 0), mm; cells lie on multiples of their side, so that the same place has the same cell. */
  readonly origin: readonly [x: number, y: number];
  readonly columns: number;
  readonly rows: number;
  /** First interval of each cell (row · columns + column), from below; one number more than cells. */
  readonly first: Int32Array;
  /** Height at which each interval begins and ends, mm. */
  readonly low: Float32Array;
  readonly high: Float32Array;
  /** Triangle by which the upright comes in and goes out. */
  readonly lowTriangle: Int32Array;
  readonly highTriangle: Int32Array;
}

/** More cells than this are refused: the memory of an editor's process. */
const mostCells = 16_000_000;

const hair = 1e-9;

/**
 * The intervals of a closed solid over each cell of a grid. A cell belongs to the triangle whose outline, followed along
 * the row's middle line, lies at or before its middle and does not end there; both triangles at an edge take the place of
 * that edge from the same sum, so each crossing is counted once and as many go in as out, whatever the rounding.
 * Intervals that touch or overlap are one.
 * @throws RangeError when the cell is not above zero, the mesh is empty or a place is not finite, or the grid would have
 * more than 16 million cells.
 */
export function columnRaster({ positions, triangles }: TriangleMesh, cell: number): ColumnRaster {
  const grid = gridOver({ positions, triangles }, cell);
  const { columns, rows } = grid;
  const { across, along, rowAndColumn } = cornersOn(positions, grid);
  const countOf = new Int32Array(columns * rows + 1);
  let { cells, heights, marks } = crossings.room(0);
  let length = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const i = triangles[t];
    const j = triangles[t + 1];
    const k = triangles[t + 2];
    const rowFrom = Math.min(rowAndColumn[2 * i], rowAndColumn[2 * j], rowAndColumn[2 * k]);
    const rowTo = Math.max(rowAndColumn[2 * i], rowAndColumn[2 * j], rowAndColumn[2 * k]);
    if (rowFrom >= rowTo) continue;
    const ci = rowAndColumn[2 * i + 1];
    const cj = rowAndColumn[2 * j + 1];
    const ck = rowAndColumn[2 * k + 1];
    if (Math.min(ci, cj, ck) >> 1 >= (Math.max(ci, cj, ck) + 1) >> 1) continue;

    const ax = across[i];
    const bx = across[j];
    const cx = across[k];
    const ay = along[i];
    const by = along[j];
    const cy = along[k];
    const a = 3 * i;
    const b = 3 * j;
    const c = 3 * k;
    const az = positions[a + 2];
    const bz = positions[b + 2];
    const cz = positions[c + 2];
    const least = az < bz ? Math.min(az, cz) : Math.min(bz, cz);
    const most = az > bz ? Math.max(az, cz) : Math.max(bz, cz);
    let isSloped = false;
    let slopeX = 0;
    let slopeY = 0;
    for (let row = rowFrom; row < rowTo; row++) {
      // An outline that goes up has the triangle before it, one that goes down behind it, seen from above.
      let up = 0;
      let down = 0;
      if (ay <= row !== by <= row) {
        if (ay < by) up = Math.ceil(ax + ((row - ay) / (by - ay)) * (bx - ax));
        else down = Math.ceil(bx + ((row - by) / (ay - by)) * (ax - bx));
      }
      if (by <= row !== cy <= row) {
        if (by < cy) up = Math.ceil(bx + ((row - by) / (cy - by)) * (cx - bx));
        else down = Math.ceil(cx + ((row - cy) / (by - cy)) * (bx - cx));
      }
      if (cy <= row !== ay <= row) {
        if (cy < ay) up = Math.ceil(cx + ((row - cy) / (ay - cy)) * (ax - cx));
        else down = Math.ceil(ax + ((row - ay) / (cy - ay)) * (cx - ax));
      }
      if (up === down) continue;
      if (!isSloped) {
        const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
        slopeX = area === 0 ? 0 : ((bz - az) * (cy - ay) - (by - ay) * (cz - az)) / area;
        slopeY = area === 0 ? 0 : ((bx - ax) * (cz - az) - (bz - az) * (cx - ax)) / area;
        isSloped = true;
      }
      const looksDown = up < down;
      const from = looksDown ? up : down;
      const to = looksDown ? down : up;
      const triangle = t / 3;
      const mark = looksDown ? ~triangle : triangle;
      const base = row * columns;
      const height = az + (row - ay) * slopeY - ax * slopeX;
      if (length + to - from > cells.length) ({ cells, heights, marks } = crossings.room(length + to - from));
      for (let column = from; column < to; column++) {
        const z = height + column * slopeX;
        cells[length] = base + column;
        heights[length] = z < least ? least : Math.min(z, most);
        marks[length++] = mark;
        countOf[base + column]++;
      }
    }
  }
  return { ...grid, ...crossings.intervals(length, countOf) };
}

const acrossRoom = new Scratch(Float64Array);
const alongRoom = new Scratch(Float64Array);
const rowAndColumnRoom = new Scratch(Int32Array);

/**
 * Every vertex on the grid: its place in cells from the middle of cell (0, 0), and the first row whose middle lies at it or
 * behind; of columns twice the first that lies at it or behind, one more where a hair decides which: that is for the
 * rounding of what lies between two corners.
 */
function cornersOn(positions: Float32Array, { origin, cell }: Pick<ColumnRaster, "origin" | "cell">) {
  const count = positions.length / 3;
  const inCells = 1 / cell;
  const [originX, originY] = origin;
  const across = acrossRoom.take(count);
  const along = alongRoom.take(count);
  const rowAndColumn = rowAndColumnRoom.take(2 * count);
  for (let i = 0; i < count; i++) {
    const x = (positions[3 * i] - originX) * inCells - 0.5;
    const y = (positions[3 * i + 1] - originY) * inCells - 0.5;
    const column = Math.ceil(x - hair);
    across[i] = x;
    along[i] = y;
    rowAndColumn[2 * i] = Math.ceil(y);
    rowAndColumn[2 * i + 1] = 2 * column + (x + hair > column ? 1 : 0);
  }
  return { across, along, rowAndColumn };
}

/** The grid that covers a mesh seen from above. */
function gridOver(
  { positions, triangles }: TriangleMesh,
  cell: number,
): Pick<ColumnRaster, "cell" | "origin" | "columns" | "rows"> {
  if (!(cell > 0) || !Number.isFinite(cell)) {
    throw new RangeError(`a cell of ${cell} mm: it must be above 0`);
  }
  if (triangles.length === 0 || positions.length === 0) throw new RangeError("a mesh without triangles");
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    if (!Number.isFinite(x + y + positions[i + 2])) {
      throw new RangeError(`vertex ${i / 3} is at (${x}, ${y}, ${positions[i + 2]}): it must be finite`);
    }
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  const columnFrom = Math.floor(x0 / cell);
  const rowFrom = Math.floor(y0 / cell);
  const columns = Math.floor(x1 / cell) - columnFrom + 1;
  const rows = Math.floor(y1 / cell) - rowFrom + 1;
  if (columns * rows > mostCells) {
    const least = Math.sqrt(((x1 - x0) * (y1 - y0)) / mostCells).toPrecision(2);
    throw new RangeError(
      `${columns} × ${rows} cells of ${cell} mm are too many: a cell must be above ${least} mm`,
    );
  }
  return { cell, origin: [columnFrom * cell, rowFrom * cell], columns, rows };
}

/** Crossings of uprights with a surface, in the order in which they are found. */
class Crossings {
  #cells = new Int32Array(0);
  #heights = new Float32Array(0);
  /** The triangle, or ~triangle where the surface looks down. */
  #marks = new Int32Array(0);
  readonly #sortedHeights = new Scratch(Float32Array);
  readonly #sortedMarks = new Scratch(Int32Array);
  readonly #used = new Scratch(Int32Array);

  /** Room for at least so many; what stands in it stays. */
  room(length: number): { cells: Int32Array; heights: Float32Array; marks: Int32Array } {
    if (length > this.#cells.length) {
      const size = Math.max(1 << 16, 2 ** Math.ceil(Math.log2(length)));
      const cells = new Int32Array(size);
      cells.set(this.#cells);
      const heights = new Float32Array(size);
      heights.set(this.#heights);
      const marks = new Int32Array(size);
      marks.set(this.#marks);
      [this.#cells, this.#heights, this.#marks] = [cells, heights, marks];
    }
    return { cells: this.#cells, heights: this.#heights, marks: this.#marks };
  }

  /**
   * Sorted by cell, then by height, joined to what lies between coming in and going out.
   * @param starts How many each cell has, and a 0; written over.
   */
  intervals(
    length: number,
    starts: Int32Array,
  ): Pick<ColumnRaster, "first" | "low" | "high" | "lowTriangle" | "highTriangle"> {
    const cells = starts.length - 1;
    let sum = 0;
    for (let cell = 0; cell <= cells; cell++) {
      const count = starts[cell];
      starts[cell] = sum;
      sum += count;
    }
    const { heights, marks } = this.#byCell(length, starts);
    const first = new Int32Array(cells + 1);
    const half = sum >> 1;
    const low = new Float32Array(half);
    const high = new Float32Array(half);
    const lowTriangle = new Int32Array(half);
    const highTriangle = new Int32Array(half);
    let count = 0;
    for (let cell = 0; cell < cells; cell++) {
      first[cell] = count;
      const to = starts[cell + 1];
      let depth = 0;
      for (let i = starts[cell]; i < to; i++) {
        if (marks[i] < 0) {
          if (++depth === 1) {
            low[count] = heights[i];
            lowTriangle[count] = ~marks[i];
          }
        } else if (--depth === 0) {
          high[count] = heights[i];
          highTriangle[count] = marks[i];
          if (high[count] > low[count]) count++;
        }
      }
    }
    first[cells] = count;
    if (this.#cells.length > mostKept) {
      this.#cells = new Int32Array(0);
      this.#heights = new Float32Array(0);
      this.#marks = new Int32Array(0);
    }
    return {
      first,
      low: low.subarray(0, count),
      high: high.subarray(0, count),
      lowTriangle: lowTriangle.subarray(0, count),
      highTriangle: highTriangle.subarray(0, count),
    };
  }

  #byCell(length: number, starts: Int32Array): { heights: Float32Array; marks: Int32Array } {
    const [cells, unsortedHeights, unsortedMarks] = [this.#cells, this.#heights, this.#marks];
    const heights = this.#sortedHeights.take(length);
    const marks = this.#sortedMarks.take(length);
    const used = this.#used.take(starts.length).fill(0, 0, starts.length);
    for (let i = 0; i < length; i++) {
      const cell = cells[i];
      const height = unsortedHeights[i];
      const mark = unsortedMarks[i];
      const from = starts[cell];
      let at = from + used[cell]++;
      // At one height what comes in goes first, so that bodies that touch are one.
      while (
        at > from &&
        (heights[at - 1] > height || (heights[at - 1] === height && mark < 0 && marks[at - 1] >= 0))
      ) {
        heights[at] = heights[at - 1];
        marks[at] = marks[at - 1];
        at--;
      }
      heights[at] = height;
      marks[at] = mark;
    }
    return { heights, marks };
  }
}

const crossings = new Crossings();

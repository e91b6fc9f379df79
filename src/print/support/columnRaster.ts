import type { TriangleMesh } from "../../geometry/mesh";

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
  const { across, along, row, columnBefore, columnBehind } = cornersOn(positions, grid);
  const sheets = new Crossings();
  const { countOf } = sheets.begin(columns * rows);
  for (let t = 0; t < triangles.length; t += 3) {
    const i = triangles[t];
    const j = triangles[t + 1];
    const k = triangles[t + 2];
    const rowFrom = least3(row[i], row[j], row[k]);
    const rowTo = most3(row[i], row[j], row[k]);
    if (rowFrom >= rowTo) continue;
    if (
      least3(columnBefore[i], columnBefore[j], columnBefore[k]) >=
      most3(columnBehind[i], columnBehind[j], columnBehind[k])
    )
      continue;

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
    const area = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const slopeX = area === 0 ? 0 : ((bz - az) * (cy - ay) - (by - ay) * (cz - az)) / area;
    const slopeY = area === 0 ? 0 : ((bx - ax) * (cz - az) - (bz - az) * (cx - ax)) / area;
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
      const looksDown = up < down;
      const from = looksDown ? up : down;
      const to = looksDown ? down : up;
      const triangle = t / 3;
      const mark = looksDown ? ~triangle : triangle;
      const base = row * columns;
      const height = az + (row - ay) * slopeY - ax * slopeX;
      for (let column = from; column < to; column++) {
        const z = height + column * slopeX;
        sheets.push(base + column, z < least ? least : Math.min(z, most), mark);
        countOf[base + column]++;
      }
    }
  }
  return { ...grid, ...sheets.intervals() };
}

const least3 = (a: number, b: number, c: number): number => (a < b ? (a < c ? a : c) : b < c ? b : c);
const most3 = (a: number, b: number, c: number): number => (a > b ? (a > c ? a : c) : b > c ? b : c);

/**
 * Every vertex on the grid: its place in cells from the middle of cell (0, 0), and the first row and column whose middle lies
 * at it or behind. Columns with a hair to either side: that is for the rounding of what lies between two corners.
 */
function cornersOn(positions: Float32Array, { origin, cell }: Pick<ColumnRaster, "origin" | "cell">) {
  const count = positions.length / 3;
  const inCells = 1 / cell;
  const [originX, originY] = origin;
  const across = new Float64Array(count);
  const along = new Float64Array(count);
  const row = new Int32Array(count);
  const columnBefore = new Int32Array(count);
  const columnBehind = new Int32Array(count);
  for (let i = 0; i < count; i++) {
    const x = (positions[3 * i] - originX) * inCells - 0.5;
    const y = (positions[3 * i + 1] - originY) * inCells - 0.5;
    across[i] = x;
    along[i] = y;
    row[i] = Math.ceil(y);
    columnBefore[i] = Math.ceil(x - hair);
    columnBehind[i] = Math.ceil(x + hair);
  }
  return { across, along, row, columnBefore, columnBehind };
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
  #cells = new Int32Array(1 << 16);
  #heights = new Float32Array(1 << 16);
  /** The triangle, or ~triangle where the surface looks down. */
  #marks = new Int32Array(1 << 16);
  #length = 0;
  #counts = new Int32Array(0);

  begin(cells: number): { readonly countOf: Int32Array } {
    this.#counts = new Int32Array(cells + 1);
    return { countOf: this.#counts };
  }

  push(cell: number, height: number, mark: number): void {
    const at = this.#length++;
    if (at === this.#cells.length) this.#grow();
    this.#cells[at] = cell;
    this.#heights[at] = height;
    this.#marks[at] = mark;
  }

  #grow(): void {
    const size = 2 * this.#cells.length;
    const cells = new Int32Array(size);
    cells.set(this.#cells);
    const heights = new Float32Array(size);
    heights.set(this.#heights);
    const marks = new Int32Array(size);
    marks.set(this.#marks);
    [this.#cells, this.#heights, this.#marks] = [cells, heights, marks];
  }

  /** Sorted by cell, then by height, joined to what lies between coming in and going out. */
  intervals(): Pick<ColumnRaster, "first" | "low" | "high" | "lowTriangle" | "highTriangle"> {
    const starts = this.#counts;
    const cells = starts.length - 1;
    let sum = 0;
    for (let cell = 0; cell <= cells; cell++) {
      const count = starts[cell];
      starts[cell] = sum;
      sum += count;
    }
    const { heights, marks } = this.#byCell(starts);
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
    return {
      first,
      low: low.slice(0, count),
      high: high.slice(0, count),
      lowTriangle: lowTriangle.slice(0, count),
      highTriangle: highTriangle.slice(0, count),
    };
  }

  #byCell(starts: Int32Array): { heights: Float32Array; marks: Int32Array } {
    const heights = new Float32Array(this.#length);
    const marks = new Int32Array(this.#length);
    const used = new Int32Array(starts.length);
    for (let i = 0; i < this.#length; i++) {
      const cell = this.#cells[i];
      const height = this.#heights[i];
      const mark = this.#marks[i];
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

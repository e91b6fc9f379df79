import { directionGrid } from "./visualField";

const { half, cellWidth } = directionGrid;

/** Sides flatter than this reach no other row than their ends do, cells. */
const flat = 1e-9;

/** A small triangle in the grid of directions: the cells in which it may be seen, row by row. */
export class SeenTriangle {
  fromRow = 0;
  toRow = -1;
  /** Of the row that was asked for. */
  fromColumn = 0;
  toColumn = -1;
  /** The sides bend in the grid, by less than this on the way to its edge, cells. */
  #bend = 0;
  /** Of each side the lower row, the upper row, the column at the lower one, and columns a row. */
  readonly #sides = new Float64Array(12);

  /**
   * Takes the places of three corners in a list (columns and rows in turn, as `putInGrid` writes them); false where
   * the triangle lies between the middles of cells.
   */
  set(inGrid: Float64Array, a: number, b: number, c: number): boolean {
    const left = Math.min(inGrid[2 * a], inGrid[2 * b], inGrid[2 * c]);
    const right = Math.max(inGrid[2 * a], inGrid[2 * b], inGrid[2 * c]);
    const low = Math.min(inGrid[2 * a + 1], inGrid[2 * b + 1], inGrid[2 * c + 1]);
    const high = Math.max(inGrid[2 * a + 1], inGrid[2 * b + 1], inGrid[2 * c + 1]);
    const bend = 0.05 + ((right - left) ** 2 + (high - low) ** 2) / 800;
    this.fromRow = Math.max(-half, Math.ceil(low - bend));
    this.toRow = Math.min(half, Math.floor(high + bend));
    this.#bend = bend;
    if (!(this.fromRow <= this.toRow)) return false;
    if (!(Math.max(-half, Math.ceil(left - bend)) <= Math.min(half, Math.floor(right + bend)))) return false;
    this.#setSide(0, inGrid, a, b);
    this.#setSide(4, inGrid, b, c);
    this.#setSide(8, inGrid, c, a);
    return true;
  }

  #setSide(at: number, inGrid: Float64Array, a: number, b: number): void {
    const isUp = inGrid[2 * a + 1] <= inGrid[2 * b + 1];
    const from = 2 * (isUp ? a : b);
    const to = 2 * (isUp ? b : a);
    const sides = this.#sides;
    const rows = inGrid[to + 1] - inGrid[from + 1];
    sides[at] = inGrid[from + 1];
    sides[at + 1] = inGrid[to + 1];
    sides[at + 2] = inGrid[from];
    sides[at + 3] = rows > flat ? (inGrid[to] - inGrid[from]) / rows : 0;
  }

  /** Finds the columns of a row: those of the straight triangle as far up and down as its sides may bend. */
  findColumns(row: number): void {
    const sides = this.#sides;
    let left = Infinity;
    let right = -Infinity;
    for (let at = 0; at < 12; at += 4) {
      const lower = Math.max(row - this.#bend, sides[at]);
      const upper = Math.min(row + this.#bend, sides[at + 1]);
      if (lower > upper) continue;
      const one = sides[at + 2] + sides[at + 3] * (lower - sides[at]);
      const other = sides[at + 2] + sides[at + 3] * (upper - sides[at]);
      if (one < left) left = one;
      if (other < left) left = other;
      if (one > right) right = one;
      if (other > right) right = other;
    }
    this.fromColumn = Math.max(-half, Math.ceil(left - this.#bend));
    this.toColumn = Math.min(half, Math.floor(right + this.#bend));
  }
}

/** Writes where a point is seen: column and row from the middle of the grid, in cells. */
export function putInGrid(x: number, y: number, z: number, into: Float64Array, place: number): void {
  const length = Math.sqrt(x * x + y * y + z * z);
  const k = Math.sqrt(2 / (1 + y / length)) / (length * cellWidth);
  into[2 * place] = x * k;
  into[2 * place + 1] = z * k;
}

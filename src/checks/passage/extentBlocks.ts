import { greatestAround, leastAround } from "./cellsAround";
import type { PassageMap } from "./passageMap";

/** Extents over square blocks of cells, one block more on every side of the map. */
interface Blocks {
  /** Cells along a block's side. */
  readonly side: number;
  readonly columns: number;
  readonly rows: number;
  /** Greatest `high` and least `low` of a block's own cells. */
  readonly high: Float32Array;
  readonly low: Float32Array;
  /** The same of it and the eight round it. */
  readonly highAround: Float32Array;
  readonly lowAround: Float32Array;
}

/** A map's extents over blocks of three sizes: tells at once where nothing is near. */
export class ExtentBlocks {
  /** The smallest first. */
  readonly #sizes: readonly Blocks[];

  /** @param most cells as far as which is asked */
  constructor(map: PassageMap, most: number) {
    const small = withAround(blocksOf(map, Math.ceil(most / 4)));
    const middle = withAround(twiceAsLarge(small));
    this.#sizes = [small, middle, withAround(twiceAsLarge(middle))];
  }

  /**
   * Whether it is sure that no cell within `reach` cells stops what goes from `w` to `end`; where it is not sure, some
   * may.
   */
  isClear(column: number, row: number, w: number, end: number, reach: number): boolean {
    const { side, columns, rows, highAround, lowAround } = this.#sizeFor(reach);
    const blockColumn = Math.floor(column / side) + 1;
    const blockRow = Math.floor(row / side) + 1;
    if (!(blockColumn >= 0 && blockColumn < columns && blockRow >= 0 && blockRow < rows)) return true;
    const at = blockRow * columns + blockColumn;
    return w >= highAround[at] && (end === w || end <= lowAround[at] + 2 * Math.PI);
  }

  #sizeFor(reach: number): Blocks {
    const [small, middle, large] = this.#sizes;
    return reach <= small.side ? small : reach <= middle.side ? middle : large;
  }
}

type OwnExtents = Omit<Blocks, "highAround" | "lowAround">;

const emptyBlocks = (side: number, columns: number, rows: number): OwnExtents => ({
  side,
  columns,
  rows,
  high: new Float32Array(columns * rows).fill(-Infinity),
  low: new Float32Array(columns * rows).fill(Infinity),
});

function blocksOf({ columns, rows, high, low }: PassageMap, side: number): OwnExtents {
  const blocks = emptyBlocks(side, Math.ceil(columns / side) + 2, Math.ceil(rows / side) + 2);
  for (let row = 0; row < rows; row++) {
    const base = (Math.floor(row / side) + 1) * blocks.columns + 1;
    for (let column = 0; column < columns; column++) {
      const from = row * columns + column;
      const to = base + ((column / side) | 0);
      if (high[from] > blocks.high[to]) blocks.high[to] = high[from];
      if (low && low[from] < blocks.low[to]) blocks.low[to] = low[from];
    }
  }
  return blocks;
}

/** Blocks of twice the side; the one more on every side stays one. */
function twiceAsLarge({ side, columns, rows, high, low }: OwnExtents): OwnExtents {
  const blocks = emptyBlocks(2 * side, Math.ceil((columns - 2) / 2) + 2, Math.ceil((rows - 2) / 2) + 2);
  for (let row = 1; row < rows - 1; row++) {
    for (let column = 1; column < columns - 1; column++) {
      const from = row * columns + column;
      const to = ((row + 1) >> 1) * blocks.columns + ((column + 1) >> 1);
      if (high[from] > blocks.high[to]) blocks.high[to] = high[from];
      if (low[from] < blocks.low[to]) blocks.low[to] = low[from];
    }
  }
  return blocks;
}

const withAround = (blocks: OwnExtents): Blocks => ({
  ...blocks,
  highAround: greatestAround(blocks.high, blocks.columns, blocks.rows),
  lowAround: leastAround(blocks.low, blocks.columns, blocks.rows),
});

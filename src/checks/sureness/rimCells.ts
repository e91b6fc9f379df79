import { cellKey } from "../balance/seat";

/** What lies farther off the head with its hair than the nearest in its cell by more than this is not its rim, mm. */
const rimGap = 1;

/** Points near a head, and their rims by the cells of a grid. A point is told by its place in the lists. */
export class RimCells {
  readonly #positions: Float32Array;
  readonly #gaps: Float64Array;
  /** Of each point its cell, in the order in which cells are met; written over by each question. */
  readonly #cellOf: Int32Array;

  /**
   * @param positions x, y, z of each point in turn, mm
   * @param gaps of each to the head with its hair, mm
   */
  constructor(positions: Float32Array, gaps: Float64Array) {
    this.#positions = positions;
    this.#gaps = gaps;
    this.#cellOf = new Int32Array(gaps.length);
  }

  all(): Int32Array {
    const all = new Int32Array(this.#gaps.length);
    for (let k = 0; k < all.length; k++) all[k] = k;
    return all;
  }

  /** Of some points in each cell the nearest to the head, and the lowest and the highest of those about as near. */
  rims(among: Int32Array, cell: number): Int32Array {
    const gaps = this.#gaps;
    const cellOf = this.#cellOf;
    const positions = this.#positions;
    const nearest = this.#nearestInCells(among, cell);
    const lowest = new Int32Array(nearest.length).fill(-1);
    const highest = new Int32Array(nearest.length).fill(-1);
    for (let i = 0; i < among.length; i++) {
      const k = among[i];
      const own = cellOf[k];
      if (gaps[k] >= gaps[nearest[own]] + rimGap) continue;
      const height = positions[3 * k + 2];
      const low = lowest[own];
      const high = highest[own];
      if (low < 0 || height < positions[3 * low + 2]) lowest[own] = k;
      if (high < 0 || height > positions[3 * high + 2]) highest[own] = k;
    }
    const chosen = new Int32Array(3 * nearest.length);
    let count = 0;
    for (let own = 0; own < nearest.length; own++) {
      const [near, low, high] = [nearest[own], lowest[own], highest[own]];
      chosen[count++] = near;
      if (low !== near) chosen[count++] = low;
      if (high !== near && high !== low) chosen[count++] = high;
    }
    return chosen.slice(0, count);
  }

  /** Finds the cell of each point. @returns of each cell the point nearest to the head */
  #nearestInCells(among: Int32Array, cell: number): number[] {
    const gaps = this.#gaps;
    const cellOf = this.#cellOf;
    const numbers = new Map<number, number>();
    const nearest: number[] = [];
    for (let i = 0; i < among.length; i++) {
      const k = among[i];
      const key = cellKey(this.#positions, k, cell);
      let own = numbers.get(key);
      if (own === undefined) {
        own = nearest.length;
        numbers.set(key, own);
        nearest.push(k);
      } else if (gaps[k] < gaps[nearest[own]]) nearest[own] = k;
      cellOf[k] = own;
    }
    return nearest;
  }
}

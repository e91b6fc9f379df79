import { extentAcross, type SeenSurface } from "./passageMap";

/** The triangles of a surface by square buckets across a motion, each in all that the rectangle round it touches. */
export class TriangleBuckets {
  readonly #side: number;
  readonly #u0: number;
  readonly #v0: number;
  readonly #columns: number;
  readonly #rows: number;
  /** Places of the first corners of triangles: those in bucket k are from `first[k]` to `first[k + 1]`. */
  readonly members: Uint32Array;
  readonly first: Uint32Array;

  /** @param side of a bucket, mm */
  constructor({ points, triangles }: SeenSurface, side: number) {
    const { u0, v0, u1, v1 } = extentAcross(points);
    this.#side = side;
    this.#u0 = u0;
    this.#v0 = v0;
    this.#columns = u1 >= u0 ? Math.floor((u1 - u0) / side) + 1 : 0;
    this.#rows = v1 >= v0 ? Math.floor((v1 - v0) / side) + 1 : 0;
    const columns = this.#columns;
    const columnOf = new Int32Array(points.length / 3);
    const rowOf = new Int32Array(points.length / 3);
    for (let i = 0; i < columnOf.length; i++) {
      columnOf[i] = Math.floor((points[3 * i] - u0) / side);
      rowOf[i] = Math.floor((points[3 * i + 1] - v0) / side);
    }
    const first = new Uint32Array(columns * this.#rows + 1);
    let members = new Uint32Array(0);
    // Counted, then put, each bucket's from the last to the first.
    for (const isCounting of [true, false]) {
      for (let t = triangles.length - 3; t >= 0; t -= 3) {
        const a = triangles[t];
        const b = triangles[t + 1];
        const c = triangles[t + 2];
        const left = Math.min(columnOf[a], columnOf[b], columnOf[c]);
        const right = Math.max(columnOf[a], columnOf[b], columnOf[c]);
        const near = Math.min(rowOf[a], rowOf[b], rowOf[c]);
        const far = Math.max(rowOf[a], rowOf[b], rowOf[c]);
        for (let row = near; row <= far; row++) {
          for (let k = row * columns + left; k <= row * columns + right; k++) {
            if (isCounting) first[k]++;
            else members[--first[k]] = t;
          }
        }
      }
      if (!isCounting) break;
      for (let k = 1; k < first.length; k++) first[k] += first[k - 1];
      members = new Uint32Array(first[first.length - 1] ?? 0);
    }
    this.first = first;
    this.members = members;
  }

  /** The bucket that a line across the motion lies in; −1 where there is none. */
  at(u: number, v: number): number {
    const column = Math.floor((u - this.#u0) / this.#side);
    const row = Math.floor((v - this.#v0) / this.#side);
    if (!(column >= 0 && column < this.#columns && row >= 0 && row < this.#rows)) return -1;
    return row * this.#columns + column;
  }
}

import { GrowingFloats, GrowingIndices } from "../../geometry/growingArrays";
import type { TriangleMesh } from "../../geometry/mesh";
import type { Support } from "./support";

/** Triangles of the surface at most; with more the cells are doubled. */
const mostTriangles = 40_000;

/** Two boxes side by side are one slope where their ends differ by no more than so many cells; else one is a step. */
const steepest = 2;

/**
 * The outside of supports as a light mesh to look at, plate's frame: over cells of about `cell` mm boxes from the mean
 * foot to the mean top of the runs in them. Boxes side by side share their corners, at the mean of their heights there,
 * so that a slope has no steps, and between two boxes there is a wall only where one stands out. Not for measuring.
 * @throws RangeError when the cell is not above zero.
 */
export function supportSurface({ runs }: Pick<Support, "runs">, cell = 2): TriangleMesh {
  if (!(cell > 0)) throw new RangeError(`a cell of ${cell} mm: it must be above 0`);
  for (let cells = Math.max(1, Math.round(cell / runs.cell)); ; cells *= 2) {
    const mesh = new Boxes(runs, cells).surface();
    const isOneBox = cells >= Math.max(runs.columns, runs.rows);
    if (mesh.triangles.length <= 3 * mostTriangles || isOneBox) return mesh;
  }
}

interface Box {
  readonly column: number;
  readonly row: number;
  bottom: number;
  top: number;
  /** Runs in it. */
  count: number;
  /** Least and greatest height of them: what overlaps is one box. */
  low: number;
  high: number;
  /** By side, the box that it goes on in. */
  readonly next: (Box | undefined)[];
  /** By corner, index of its upper vertex, the lower one follows it; −1 as long as there is none. */
  readonly corners: number[];
}

/** Sides in turn: east, north, west, south; side s lies between the corners s and s + 1. */
const across = [1, 0, -1, 0];
const along = [0, 1, 0, -1];
/** Corners in turn, from south-east on. */
const cornerX = [1, 1, 0, 0];
const cornerY = [0, 1, 1, 0];

class Boxes {
  readonly #side: number;
  readonly #origin: readonly [number, number];
  readonly #columns: number;
  readonly #ofCell = new Map<number, Box[]>();
  readonly #positions = new GrowingFloats();
  readonly #triangles = new GrowingIndices();

  constructor(runs: Support["runs"], cells: number) {
    // Boxes begin at multiples of their side, whatever the piece covers.
    const shift = (axis: 0 | 1): number => {
      const from = Math.round(runs.origin[axis] / runs.cell);
      return ((from % cells) + cells) % cells;
    };
    const [shiftX, shiftY] = [shift(0), shift(1)];
    this.#side = cells * runs.cell;
    this.#origin = [runs.origin[0] - shiftX * runs.cell, runs.origin[1] - shiftY * runs.cell];
    this.#columns = Math.ceil((runs.columns + shiftX) / cells);
    for (let i = 0; i < runs.count; i++) {
      const column = Math.floor((runs.column[i] + shiftX) / cells);
      this.#add(column, Math.floor((runs.row[i] + shiftY) / cells), runs.bottom[i], runs.top[i]);
    }
    // Each pair once: from the west, from the south.
    for (const boxes of this.#ofCell.values()) for (const side of [0, 1]) this.#join(boxes, side);
  }

  surface(): TriangleMesh {
    const all = [...this.#ofCell.values()].flat();
    for (const box of all) for (let corner = 0; corner < 4; corner++) this.#place(box, corner);
    for (const box of all) {
      const [a, b, c, d] = box.corners;
      this.#quad(a, b, c, d);
      this.#quad(d + 1, c + 1, b + 1, a + 1);
      for (let side = 0; side < 4; side++) if (!box.next[side]) this.#wall(box, side);
    }
    return { positions: this.#positions.finish(), triangles: this.#triangles.finish() };
  }

  #add(column: number, row: number, bottom: number, top: number): void {
    const at = row * this.#columns + column;
    const boxes = this.#ofCell.get(at);
    const own = boxes?.find(({ low, high }) => bottom < high && low < top);
    if (own) {
      own.bottom += (bottom - own.bottom) / (own.count + 1);
      own.top += (top - own.top) / (own.count + 1);
      own.count++;
      own.low = Math.min(own.low, bottom);
      own.high = Math.max(own.high, top);
      return;
    }
    const box: Box = {
      ...{ column, row, bottom, top, count: 1, low: bottom, high: top },
      next: [undefined, undefined, undefined, undefined],
      corners: [-1, -1, -1, -1],
    };
    if (boxes) boxes.push(box);
    else this.#ofCell.set(at, [box]);
  }

  #beside({ column, row }: Box, side: number): readonly Box[] {
    const other = column + across[side];
    if (other < 0 || other >= this.#columns) return [];
    return this.#ofCell.get((row + along[side]) * this.#columns + other) ?? [];
  }

  /** Joins the boxes of a cell with those beside it that they go on in: each the one that it has most in common with. */
  #join(boxes: readonly Box[], side: number): void {
    for (const box of boxes) {
      const other = this.#nearest(box, this.#beside(box, side));
      if (!other || this.#nearest(other, boxes) !== box) continue;
      box.next[side] = other;
      other.next[side + 2] = box;
    }
  }

  #nearest({ bottom, top }: Box, others: readonly Box[]): Box | undefined {
    const most = steepest * this.#side;
    let best: Box | undefined;
    let shared = 0;
    for (const other of others) {
      const common = Math.min(top, other.top) - Math.max(bottom, other.bottom);
      const isSlope = Math.abs(top - other.top) <= most && Math.abs(bottom - other.bottom) <= most;
      if (!isSlope || common <= shared) continue;
      best = other;
      shared = common;
    }
    return best;
  }

  /** Places a corner of a box, the same for all boxes round it that go on in each other. */
  #place(box: Box, corner: number): void {
    if (box.corners[corner] >= 0) return;
    const around: { readonly box: Box; readonly corner: number }[] = [{ box, corner }];
    // Round the corner one way, over side c to the box whose corner c + 3 it is, and the other, over side c − 1.
    for (const isBack of [false, true]) {
      let at = { box, corner };
      while (around.length < 4) {
        const side = isBack ? (at.corner + 3) % 4 : at.corner;
        const other = at.box.next[side];
        const theirs = (at.corner + (isBack ? 1 : 3)) % 4;
        if (!other || other === box || other.corners[theirs] >= 0) break;
        at = { box: other, corner: theirs };
        around.push(at);
      }
    }
    const index = this.#positions.length / 3;
    const mean = (of: (one: Box) => number) =>
      around.reduce((sum, one) => sum + of(one.box), 0) / around.length;
    const x = this.#origin[0] + (box.column + cornerX[corner]) * this.#side;
    const y = this.#origin[1] + (box.row + cornerY[corner]) * this.#side;
    this.#positions.push(
      x,
      y,
      mean(({ top }) => top),
    );
    this.#positions.push(
      x,
      y,
      mean(({ bottom }) => bottom),
    );
    for (const one of around) one.box.corners[one.corner] = index;
  }

  /** The wall on a side of a box, as far as no box beside it covers it. */
  #wall(box: Box, side: number): void {
    const [from, to] = [box.corners[side], box.corners[(side + 1) % 4]];
    let left: readonly Stretch[] = [{ low: [from + 1, to + 1], high: [from, to] }];
    for (const other of this.#beside(box, side)) {
      // From over there the same two corners are the other way round.
      const [theirFrom, theirTo] = [other.corners[(side + 3) % 4], other.corners[(side + 2) % 4]];
      const theirs: Stretch = { low: [theirFrom + 1, theirTo + 1], high: [theirFrom, theirTo] };
      left = left.flatMap((stretch) => this.#without(stretch, theirs));
    }
    for (const { low, high } of left) this.#quad(low[0], low[1], high[1], high[0]);
  }

  /** What is left of a stretch of a wall; all of it where the other covers it along a part of its width only. */
  #without(own: Stretch, other: Stretch): Stretch[] {
    if (this.#isBelow(own.high, other.low) || this.#isBelow(other.high, own.low)) return [own];
    const isWithin = this.#isOrdered(own.low, other.low) && this.#isOrdered(own.high, other.high);
    if (!isWithin) return [own];
    return [
      { low: own.low, high: other.low },
      { low: other.high, high: own.high },
    ].filter(({ low, high }) => this.#isBelow(low, high) && !this.#isBelow(high, low));
  }

  /** One of two edges lies below the other, or on it, along the whole width. */
  #isOrdered(one: Edge, other: Edge): boolean {
    return this.#isBelow(one, other) || this.#isBelow(other, one);
  }

  #isBelow(one: Edge, other: Edge): boolean {
    return this.#height(one[0]) <= this.#height(other[0]) && this.#height(one[1]) <= this.#height(other[1]);
  }

  #height(vertex: number): number {
    return this.#positions.at(3 * vertex + 2);
  }

  #quad(a: number, b: number, c: number, d: number): void {
    this.#triangles.push(a, b, c);
    this.#triangles.push(a, c, d);
  }
}

/** The vertices at both ends of an edge of a wall. */
type Edge = readonly [from: number, to: number];

/** A wall between two edges. */
interface Stretch {
  readonly low: Edge;
  readonly high: Edge;
}

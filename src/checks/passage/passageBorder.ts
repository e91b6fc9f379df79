import { type Foot, mostRoom } from "./passageClearance";
import { extentAcross, isTorn, type SeenSurface, stops, throughAxis, turnOf } from "./passageMap";

/** Side of a bucket of triangles, mm. */
const bucketSide = 6;

/**
 * The exact border between where a surface stops a point on its way and where it does not, on the surface's own
 * triangles: settles what a passage map finds to within a cell.
 */
export class PassageBorder {
  readonly #surface: SeenSurface;
  readonly #turn: number;
  readonly #leastV: number;
  readonly #u0: number;
  readonly #v0: number;
  readonly #columns: number;
  readonly #rows: number;
  /** Triangles by bucket: those of bucket k are `#members` from `#first[k]` to `#first[k + 1]`. */
  readonly #first: Uint32Array;
  readonly #members: Uint32Array;
  /** Extents on the line last asked for. */
  readonly #line = { high: -Infinity, low: Infinity };

  constructor(surface: SeenSurface) {
    const { points, triangles } = surface;
    this.#surface = surface;
    this.#turn = turnOf(surface.motion);
    this.#leastV = surface.motion.kind === "hinge" ? 0 : -Infinity;
    const { u0, v0, u1, v1 } = extentAcross(points);
    const columns = u1 >= u0 ? Math.floor((u1 - u0) / bucketSide) + 1 : 0;
    const rows = v1 >= v0 ? Math.floor((v1 - v0) / bucketSide) + 1 : 0;
    this.#u0 = u0;
    this.#v0 = v0;
    this.#columns = columns;
    this.#rows = rows;
    const first = new Uint32Array(columns * rows + 1);
    const visit = (each: (bucket: number, triangle: number) => void): void => {
      for (let t = 0; t < triangles.length; t += 3) {
        const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
        const left = Math.floor((Math.min(points[a], points[b], points[c]) - u0) / bucketSide);
        const right = Math.floor((Math.max(points[a], points[b], points[c]) - u0) / bucketSide);
        const near = Math.floor((Math.min(points[a + 1], points[b + 1], points[c + 1]) - v0) / bucketSide);
        const far = Math.floor((Math.max(points[a + 1], points[b + 1], points[c + 1]) - v0) / bucketSide);
        for (let row = near; row <= far; row++) {
          for (let column = left; column <= right; column++) each(row * columns + column, t);
        }
      }
    };
    visit((bucket) => first[bucket + 1]++);
    for (let k = 1; k < first.length; k++) first[k] += first[k - 1];
    const next = first.slice();
    const members = new Uint32Array(first[first.length - 1] ?? 0);
    visit((bucket, triangle) => {
      members[next[bucket]++] = triangle;
    });
    this.#first = first;
    this.#members = members;
  }

  /** Whether the surface stops the point with these coordinates on its way. */
  stopsAt(u: number, v: number, w: number): boolean {
    // On a slide the first triangle above the point decides.
    const { high, low } = this.#extentsOn(u, v, this.#turn === 0 ? w : Infinity);
    return high >= low && stops(high, low, w, this.#turn);
  }

  /** Greatest w of the surface on a line, or undefined. */
  highest(u: number, v: number): number | undefined {
    const { high } = this.#extentsOn(u, v);
    return Number.isFinite(high) ? high : undefined;
  }

  /** Greatest and least w on a line; no further than until the greatest is above `enough`. */
  #extentsOn(u: number, v: number, enough = Infinity): { readonly high: number; readonly low: number } {
    const line = this.#line;
    line.high = -Infinity;
    line.low = Infinity;
    const column = Math.floor((u - this.#u0) / bucketSide);
    const row = Math.floor((v - this.#v0) / bucketSide);
    if (!(column >= 0 && column < this.#columns && row >= 0 && row < this.#rows)) return line;
    const { points: p, triangles } = this.#surface;
    const bucket = row * this.#columns + column;
    for (let i = this.#first[bucket]; i < this.#first[bucket + 1]; i++) {
      const t = this.#members[i];
      const a = 3 * triangles[t];
      const b = 3 * triangles[t + 1];
      const c = 3 * triangles[t + 2];
      const bu = p[b] - p[a];
      const bv = p[b + 1] - p[a + 1];
      const cu = p[c] - p[a];
      const cv = p[c + 1] - p[a + 1];
      const twice = bu * cv - cu * bv;
      if (twice === 0) continue;
      const du = u - p[a];
      const dv = v - p[a + 1];
      const weightB = (du * cv - cu * dv) / twice;
      const weightC = (bu * dv - du * bv) / twice;
      if (weightB < -1e-6 || weightC < -1e-6 || weightB + weightC > 1.000001) continue;
      const bw = p[b + 2] - p[a + 2];
      const cw = p[c + 2] - p[a + 2];
      if (this.#turn > 0 && isTorn(bw, cw)) {
        line.high = throughAxis;
        line.low = -throughAxis;
        return line;
      }
      const w = p[a + 2] + weightB * bw + weightC * cw;
      if (w < line.low) line.low = w;
      if (w > line.high) line.high = w;
      if (line.high > enough) return line;
    }
    return line;
  }

  /**
   * Room of a point across the motion, or, negative, what it lacks, mm; at most `mostRoom`. The foot (a place near the
   * nearest on the border, from a map of cells as large as `cell`) is where the search begins; it is moved to the
   * nearest on the border.
   */
  settle(u: number, v: number, w: number, foot: Foot, cell: number): number {
    const isStopped = this.stopsAt(u, v, w);
    const reached = (distance: number, angle: number): boolean => {
      const footV = v + distance * Math.sin(angle);
      return footV >= this.#leastV && this.stopsAt(u + distance * Math.cos(angle), footV, w) !== isStopped;
    };
    const start = Math.hypot(foot.u - u, foot.v - v);
    let angle = start > 1e-9 ? Math.atan2(foot.v - v, foot.u - u) : 0;
    let least = start;
    if (!reached(start, angle)) {
      // The map and the triangles judged the point itself differently: the border is within a cell.
      least = -1;
      for (let k = 0; k < 16 && least < 0; k++) {
        for (const distance of [0.25, 0.5, 0.75, 1, 1.5, 2.25]) {
          if (!reached(distance * cell, (k * Math.PI) / 8)) continue;
          least = distance * cell;
          angle = (k * Math.PI) / 8;
          break;
        }
      }
      if (least < 0) return isStopped ? -start : mostRoom;
    }
    const nearer = (most: number, way: number): number => {
      let [from, to] = [Math.max(0, most - 2 * cell), most];
      if (from > 0 && reached(from, way)) [from, to] = [0, from];
      for (let k = 0; k < 12; k++) {
        const middle = (from + to) / 2;
        if (reached(middle, way)) to = middle;
        else from = middle;
      }
      return to;
    };
    least = nearer(least, angle);
    let step = Math.min(1, (2 * cell) / Math.max(least, cell));
    for (let k = 0; k < 14; k++) {
      let turned = false;
      for (const way of [angle + step, angle - step]) {
        if (!reached(least * (1 - 1e-6), way)) continue;
        least = nearer(least, way);
        angle = way;
        turned = true;
        break;
      }
      if (!turned) step /= 2;
    }
    foot.u = u + least * Math.cos(angle);
    foot.v = v + least * Math.sin(angle);
    return isStopped ? -least : Math.min(mostRoom, least);
  }
}

import { type Foot, mostRoom } from "./passageClearance";
import { isTorn, type SeenSurface, stops, throughAxis, turnOf } from "./passageMap";
import { TriangleBuckets } from "./triangleBuckets";

/** Side of a bucket of triangles, mm. */
const bucketSide = 3;
/** By so much a place on a triangle may come to lie beyond its corners, mm. */
const rounding = 1e-3;

/**
 * The exact border between where a surface stops a point on its way and where it does not, on the surface's own
 * triangles: settles what a passage map finds to within a cell.
 */
export class PassageBorder {
  readonly #surface: SeenSurface;
  readonly #turn: number;
  readonly #leastV: number;
  readonly #buckets: TriangleBuckets;
  /** Extents on the line last asked for. */
  readonly #line = { high: -Infinity, low: Infinity };

  constructor(surface: SeenSurface) {
    this.#surface = surface;
    this.#turn = turnOf(surface.motion);
    this.#leastV = surface.motion.kind === "hinge" ? 0 : -Infinity;
    this.#buckets = new TriangleBuckets(surface, bucketSide);
  }

  /** Whether the surface stops the point with these coordinates on its way. */
  stopsAt(u: number, v: number, w: number): boolean {
    const { high, low } = this.#extentsOn(u, v, w);
    return high >= low && stops(high, low, w, this.#turn);
  }

  /** Greatest w of the surface on a line, or undefined. */
  highest(u: number, v: number): number | undefined {
    const { high } = this.#extentsOn(u, v, Number.NaN);
    return Number.isFinite(high) ? high : undefined;
  }

  /** Greatest and least w on a line, as far as it matters to a point at w; all of it for NaN. */
  #extentsOn(u: number, v: number, w: number): { readonly high: number; readonly low: number } {
    const line = this.#line;
    line.high = -Infinity;
    line.low = Infinity;
    const bucket = this.#buckets.at(u, v);
    if (bucket < 0) return line;
    const { first, members } = this.#buckets;
    const { points: p, triangles } = this.#surface;
    const turn = this.#turn;
    // What lies below it stops no point of a slide.
    const below = turn === 0 ? w - rounding : -Infinity;
    for (let i = first[bucket]; i < first[bucket + 1]; i++) {
      const t = members[i];
      const a = 3 * triangles[t];
      const b = 3 * triangles[t + 1];
      const c = 3 * triangles[t + 2];
      if (p[a + 2] < below && p[b + 2] < below && p[c + 2] < below) continue;
      const bu = p[b] - p[a];
      const bv = p[b + 1] - p[a + 1];
      const cu = p[c] - p[a];
      const cv = p[c + 1] - p[a + 1];
      const twice = bu * cv - cu * bv;
      if (twice === 0) continue;
      const du = u - p[a];
      const dv = v - p[a + 1];
      const weightB = (du * cv - cu * dv) / twice;
      if (weightB < -1e-6) continue;
      const weightC = (bu * dv - du * bv) / twice;
      if (weightC < -1e-6 || weightB + weightC > 1.000001) continue;
      const bw = p[b + 2] - p[a + 2];
      const cw = p[c + 2] - p[a + 2];
      if (turn > 0 && isTorn(bw, cw)) {
        line.high = throughAxis;
        line.low = -throughAxis;
        return line;
      }
      const own = p[a + 2] + weightB * bw + weightC * cw;
      if (own < line.low) line.low = own;
      if (own > line.high) line.high = own;
      if (stops(line.high, line.low, w, turn)) return line;
    }
    return line;
  }

  /**
   * Room of a point across the motion, or, negative, what it lacks, mm; at most `mostRoom`. The foot (a place near the
   * nearest on the border, from a map of cells as large as `cell`) is where the search begins; it is moved to the
   * nearest on the border.
   * @param most of what is sure to be no less, no more is found out than that
   */
  settle(u: number, v: number, w: number, foot: Foot, cell: number, most = Infinity): number {
    const isStopped = this.stopsAt(u, v, w);
    // A stopped point lacks no more than the way to any place on the border.
    const enough = isStopped ? -most : -Infinity;
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
    if (least <= enough) return -least;
    const nearer = (known: number, way: number): number => {
      let [from, to] = [Math.max(0, known - 2 * cell), known];
      if (from > 0 && reached(from, way)) [from, to] = [0, from];
      for (let k = 0; k < 12; k++) {
        const middle = (from + to) / 2;
        if (reached(middle, way)) to = middle;
        else from = middle;
      }
      return to;
    };
    least = nearer(least, angle);
    if (least <= enough) return -least;
    let step = Math.min(1, (2 * cell) / Math.max(least, cell));
    for (let k = 0; k < 14; k++) {
      let turned = false;
      for (const way of [angle + step, angle - step]) {
        if (!reached(least * (1 - 1e-6), way)) continue;
        least = nearer(least, way);
        if (least <= enough) return -least;
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

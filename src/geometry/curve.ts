import { refusal } from "./refusal";
import { type SplineSpans, spanStride, splineSpans } from "./splineSpans";
import type { PathData } from "./tubeShape";
import type { Vec3 } from "./vector";

/** Points of a curve: x, y, z of each in turn. */
export interface CurveSamples {
  readonly count: number;
  /** mm */
  readonly points: Float64Array;
  /** Unit vectors along the path. */
  readonly tangents: Float64Array;
  /** Curvature vectors (towards the centre of curvature, length 1/radius), 1/mm. */
  readonly curvatures: Float64Array;
}

/** Nodes and weights of five-point Gauss-Legendre quadrature on [-1, 1] (Abramowitz & Stegun, table 25.4). */
const gaussNodes = [0, -0.5384693101056831, 0.5384693101056831, -0.906179845938664, 0.906179845938664];
const gaussWeights = [
  0.5688888888888889, 0.47862867049936647, 0.47862867049936647, 0.23692688505618908, 0.23692688505618908,
];
const relativeLengthError = 1e-10;
const deepestHalving = 12;
/** Curvature of a cusp, 1/mm: large, yet finite. */
const greatestCurvature = 1e6;

/** A path measured by arc length: every place on it is a share of its length, 0 to 1. */
export class Curve {
  readonly closed: boolean;
  /** Arc length, mm. */
  readonly length: number;
  private readonly spans: SplineSpans;
  /** Table for the inversion of arc length: parameter (span + u), length up to it, speed there. */
  private readonly parameters: Float64Array;
  private readonly lengths: Float64Array;
  private readonly speeds: Float64Array;
  private readonly scratch = new Float64Array(9);

  /** Throws a MessageError for a path without length (see `splineSpans`). */
  constructor(path: PathData) {
    this.closed = path.closed;
    this.spans = splineSpans(path);
    const parameters = [0];
    const lengths = [0];
    let bound = 0;
    for (let i = 0; i < this.spans.count; i++) bound += this.arc(i, i + 1);
    const enough = Math.max(bound * relativeLengthError, 1e-12);
    for (let span = 0; span < this.spans.count; span++) {
      for (let quarter = 0; quarter < 4; quarter++) {
        const from = span + quarter / 4;
        this.tabulate(from, from + 0.25, this.arc(from, from + 0.25), enough, 0, parameters, lengths);
      }
    }
    this.parameters = Float64Array.from(parameters);
    this.lengths = Float64Array.from(lengths);
    this.speeds = this.parameters.map((t) => this.speed(t));
    this.length = lengths[lengths.length - 1];
    if (!(this.length > 1e-6) || !Number.isFinite(this.length)) {
      throw refusal(
        "path-without-length",
        `the path is ${this.length} mm long`,
        "give points that lie apart",
      );
    }
  }

  /** The point at a share of the length, mm. Open paths clamp the share, closed ones wrap it. */
  pointAt(share: number): Vec3 {
    this.evaluate(this.parameterAt(share));
    const s = this.scratch;
    return [s[0], s[1], s[2]];
  }

  /** The unit direction of the path at a share. */
  tangentAt(share: number): Vec3 {
    this.evaluate(this.parameterAt(share));
    const s = this.scratch;
    return [s[3], s[4], s[5]];
  }

  /** Curvature (1/radius of the osculating circle) at a share, 1/mm. */
  curvatureAt(share: number): number {
    this.evaluate(this.parameterAt(share));
    const s = this.scratch;
    return Math.hypot(s[6], s[7], s[8]);
  }

  /** Points, tangents and curvature vectors at many shares. */
  sample(shares: ArrayLike<number>): CurveSamples {
    const count = shares.length;
    const points = new Float64Array(count * 3);
    const tangents = new Float64Array(count * 3);
    const curvatures = new Float64Array(count * 3);
    const s = this.scratch;
    for (let i = 0; i < count; i++) {
      this.evaluate(this.parameterAt(shares[i]));
      for (let axis = 0; axis < 3; axis++) {
        points[i * 3 + axis] = s[axis];
        tangents[i * 3 + axis] = s[3 + axis];
        curvatures[i * 3 + axis] = s[6 + axis];
      }
    }
    return { count, points, tangents, curvatures };
  }

  /** Shares, ascending from 0 to 1, that are dense where the spline changes: eight or more per span. */
  stations(): Float64Array {
    return this.lengths.map((length) => length / this.length);
  }

  /**
   * The share at which the path passes its i-th point (`through`), or is most drawn by it (`pulled`: its Greville
   * abscissa). Counts from 0.
   */
  shareAtPoint(index: number): number {
    const t = this.spans.pointParameters[index];
    if (t === undefined) {
      throw refusal(
        "no-such-path-point",
        `the path has no point ${index}`,
        `points count from 0 to ${this.spans.pointParameters.length - 1}`,
      );
    }
    const i = lastAtOrBelow(this.parameters, t);
    return Math.min(1, (this.lengths[i] + this.arc(this.parameters[i], t)) / this.length);
  }

  /** The share of the path's point nearest to `point`; the earliest one where several are. */
  nearestShare(point: Vec3): number {
    const count = this.parameters.length;
    const squared = (t: number) => {
      this.evaluatePosition(t);
      const s = this.scratch;
      return (s[0] - point[0]) ** 2 + (s[1] - point[1]) ** 2 + (s[2] - point[2]) ** 2;
    };
    const coarse = this.parameters.map(squared);
    let least = Number.POSITIVE_INFINITY;
    for (const value of coarse) least = Math.min(least, value);
    let best = Number.POSITIVE_INFINITY;
    let bestAt = 0;
    for (let i = 0; i + 1 < count; i++) {
      // Within an interval the path cannot come nearer than half its length below the nearer end.
      const nearer = Math.sqrt(Math.min(coarse[i], coarse[i + 1]));
      const reach = (this.lengths[i + 1] - this.lengths[i]) / 2;
      if (nearer - reach > Math.sqrt(Math.min(least, best))) continue;
      const t = goldenMinimum(squared, this.parameters[i], this.parameters[i + 1]);
      for (const candidate of [t, this.parameters[i], this.parameters[i + 1]]) {
        const value = squared(candidate);
        if (value < best - 1e-12) {
          best = value;
          bestAt = candidate;
        }
      }
    }
    const i = lastAtOrBelow(this.parameters, bestAt);
    return Math.min(1, (this.lengths[i] + this.arc(this.parameters[i], bestAt)) / this.length);
  }

  /** Parameter (span + u) at a share of the length. */
  private parameterAt(share: number): number {
    if (!Number.isFinite(share)) {
      throw refusal("share-not-finite", `a share of the path is ${share}`, "give a share from 0 to 1");
    }
    let s = this.closed ? (share === 1 ? 1 : share - Math.floor(share)) : share;
    s = Math.min(1, Math.max(0, s)) * this.length;
    const last = this.parameters.length - 1;
    const i = Math.min(last - 1, lastAtOrBelow(this.lengths, s));
    const [t0, t1] = [this.parameters[i], this.parameters[i + 1]];
    const h = this.lengths[i + 1] - this.lengths[i];
    const target = s - this.lengths[i];
    if (target <= 1e-12 * h) return t0;
    if (target >= h * (1 - 1e-12)) return t1;
    let low = t0;
    let high = t1;
    // Cubic through both ends with the slopes 1/speed, then Newton's method, kept within the interval.
    const x = target / h;
    const m0 = Math.min(h / Math.max(this.speeds[i], 1e-300), 3 * (t1 - t0));
    const m1 = Math.min(h / Math.max(this.speeds[i + 1], 1e-300), 3 * (t1 - t0));
    let t = t0 + x * (m0 + x * (3 * (t1 - t0) - 2 * m0 - m1 + x * (m0 + m1 - 2 * (t1 - t0))));
    for (let round = 0; round < 20; round++) {
      if (!(t > low && t < high)) t = (low + high) / 2;
      const excess = this.arc(t0, t) - target;
      if (excess > 0) high = t;
      else low = t;
      const speed = this.speed(t);
      const next = speed > 0 ? t - excess / speed : (low + high) / 2;
      const done = Math.abs(excess) <= 1e-7 * h;
      t = next;
      if (done) break;
    }
    return Math.min(t1, Math.max(t0, t));
  }

  private tabulate(
    from: number,
    to: number,
    whole: number,
    enough: number,
    depth: number,
    parameters: number[],
    lengths: number[],
  ): void {
    const middle = (from + to) / 2;
    const left = this.arc(from, middle);
    const right = this.arc(middle, to);
    if (Math.abs(left + right - whole) > enough && depth < deepestHalving) {
      this.tabulate(from, middle, left, enough, depth + 1, parameters, lengths);
      this.tabulate(middle, to, right, enough, depth + 1, parameters, lengths);
      return;
    }
    const before = lengths[lengths.length - 1];
    parameters.push(middle, to);
    lengths.push(before + left, before + left + right);
  }

  /** Length between two parameters of one span, mm. */
  private arc(from: number, to: number): number {
    const half = (to - from) / 2;
    const middle = (to + from) / 2;
    const span = Math.min(this.spans.count - 1, Math.floor(middle));
    let sum = 0;
    for (let i = 0; i < 5; i++)
      sum += gaussWeights[i] * this.speedIn(span, middle + half * gaussNodes[i] - span);
    return sum * half;
  }

  private speed(t: number): number {
    const span = Math.min(this.spans.count - 1, Math.floor(t));
    return this.speedIn(span, t - span);
  }

  private speedIn(span: number, u: number): number {
    const c = this.spans.coefficients;
    const at = span * spanStride;
    const x = c[at + 1] + u * (2 * c[at + 2] + u * 3 * c[at + 3]);
    const y = c[at + 5] + u * (2 * c[at + 6] + u * 3 * c[at + 7]);
    const z = c[at + 9] + u * (2 * c[at + 10] + u * 3 * c[at + 11]);
    return Math.sqrt(x * x + y * y + z * z);
  }

  private evaluatePosition(t: number): void {
    const span = Math.min(this.spans.count - 1, Math.floor(t));
    const u = t - span;
    const c = this.spans.coefficients;
    for (let axis = 0; axis < 3; axis++) {
      const at = span * spanStride + axis * 4;
      this.scratch[axis] = c[at] + u * (c[at + 1] + u * (c[at + 2] + u * c[at + 3]));
    }
  }

  /** Position, unit tangent and curvature vector at a parameter, into the scratch. */
  private evaluate(t: number): void {
    const s = this.scratch;
    this.evaluatePosition(t);
    const span = Math.min(this.spans.count - 1, Math.floor(t));
    const u = t - span;
    const c = this.spans.coefficients;
    for (let axis = 0; axis < 3; axis++) {
      const at = span * spanStride + axis * 4;
      s[3 + axis] = c[at + 1] + u * (2 * c[at + 2] + u * 3 * c[at + 3]);
      s[6 + axis] = 2 * c[at + 2] + u * 6 * c[at + 3];
    }
    let speed = Math.sqrt(s[3] * s[3] + s[4] * s[4] + s[5] * s[5]);
    const bend = Math.sqrt(s[6] * s[6] + s[7] * s[7] + s[8] * s[8]);
    if (speed <= 1e-9 * (1 + bend)) {
      // The path stands still here (doubled control points): its direction is that of its second derivative.
      const sign = u > 0.5 ? -1 : 1;
      const still = bend > 0;
      for (let axis = 0; axis < 3; axis++) {
        const third = 6 * c[span * spanStride + axis * 4 + 3];
        s[3 + axis] = still ? sign * s[6 + axis] : third;
        s[6 + axis] = 0;
      }
      speed = Math.sqrt(s[3] * s[3] + s[4] * s[4] + s[5] * s[5]);
      if (speed === 0) {
        s[3] = 1;
        speed = 1;
      }
    }
    s[3] /= speed;
    s[4] /= speed;
    s[5] /= speed;
    const along = s[6] * s[3] + s[7] * s[4] + s[8] * s[5];
    const k = 1 / (speed * speed);
    s[6] = (s[6] - along * s[3]) * k;
    s[7] = (s[7] - along * s[4]) * k;
    s[8] = (s[8] - along * s[5]) * k;
    const curvature = Math.sqrt(s[6] * s[6] + s[7] * s[7] + s[8] * s[8]);
    if (curvature > greatestCurvature) {
      const shrink = greatestCurvature / curvature;
      s[6] *= shrink;
      s[7] *= shrink;
      s[8] *= shrink;
    }
  }
}

/** Index of the last entry of an ascending list that is not above `value`; 0 if all are. */
export function lastAtOrBelow(ascending: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = ascending.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (ascending[middle] <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Minimum of a function with one valley, by golden sections. */
function goldenMinimum(f: (t: number) => number, from: number, to: number): number {
  const golden = 0.6180339887498949;
  let [a, b] = [from, to];
  let [c, d] = [b - golden * (b - a), a + golden * (b - a)];
  let [fc, fd] = [f(c), f(d)];
  for (let round = 0; round < 36; round++) {
    if (fc <= fd) {
      [b, d, fd] = [d, c, fc];
      c = b - golden * (b - a);
      fc = f(c);
    } else {
      [a, c, fc] = [c, d, fd];
      d = a + golden * (b - a);
      fd = f(d);
    }
  }
  return (a + b) / 2;
}

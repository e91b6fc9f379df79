import { refusal } from "./refusal";
import type { PathData } from "./tubeShape";
import { distance, type Vec3 } from "./vector";

/** Numbers per span: c0, c1, c2, c3 of x, then of y, then of z; position = c0 + c1·u + c2·u² + c3·u³, u in [0, 1]. */
export const spanStride = 12;

/** A spline as cubic pieces. */
export interface SplineSpans {
  /** `spanStride` numbers per span. */
  readonly coefficients: Float64Array;
  readonly count: number;
  /** For each point of the path the parameter (span index + u) that it stands for. */
  readonly pointParameters: Float64Array;
}

const isFinitePoint = ([x, y, z]: Vec3): boolean =>
  Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z);

/** Points nearer than this count as one, mm. */
const samePoint = 1e-9;

/**
 * The cubic pieces of a path. `through`: centripetal Catmull-Rom (knot spacing = square root of the chord; Yuksel,
 * Schaefer, Keyser 2011, "Parameterization and applications of Catmull-Rom curves", CAD 43(7)); the first and the
 * last span of an open path are parabolas that meet their neighbours' tangents. `pulled`: uniform cubic B-spline;
 * open ones have clamped knots, so that they start and end at their end points (three points: quadratic, two: line).
 * Throws a MessageError for fewer than two distinct points (three if closed) or a coordinate that is no number.
 */
export function splineSpans(path: PathData): SplineSpans {
  path.points.forEach((point, index) => {
    if (point.length !== 3 || !isFinitePoint(point)) {
      throw refusal(
        "path-point-not-finite",
        `point ${index + 1} of the path is [${point.join(", ")}]`,
        "give three finite coordinates in mm",
      );
    }
  });
  const distinct = path.points.filter(
    (point, i) => i === 0 || distance(point, path.points[i - 1]) > samePoint,
  );
  if (
    path.closed &&
    distinct.length > 1 &&
    distance(distinct[0], distinct[distinct.length - 1]) <= samePoint
  ) {
    distinct.pop();
  }
  const least = path.closed ? 3 : 2;
  if (distinct.length < least) {
    throw refusal(
      "path-without-length",
      `a${path.closed ? " closed" : "n open"} path has ${distinct.length} distinct point${distinct.length === 1 ? "" : "s"}`,
      `give at least ${least} points that differ`,
    );
  }
  return path.kind === "through" ? catmullRom(path, distinct) : bSpline(path);
}

function catmullRom(path: PathData, points: readonly Vec3[]): SplineSpans {
  const n = points.length;
  const count = path.closed ? n : n - 1;
  const coefficients = new Float64Array(count * spanStride);
  const steps = new Float64Array(count);
  for (let i = 0; i < count; i++) steps[i] = Math.sqrt(distance(points[i], points[(i + 1) % n]));

  const slopes = new Float64Array(count);
  const tangents = new Float64Array(count + 1);
  for (let axis = 0; axis < 3; axis++) {
    for (let i = 0; i < count; i++) slopes[i] = (points[(i + 1) % n][axis] - points[i][axis]) / steps[i];
    for (let i = path.closed ? 0 : 1; i < count; i++) {
      const before = i === 0 ? count - 1 : i - 1;
      tangents[i] = (slopes[before] * steps[i] + slopes[i] * steps[before]) / (steps[before] + steps[i]);
    }
    if (path.closed) {
      tangents[count] = tangents[0];
    } else {
      tangents[0] = n === 2 ? slopes[0] : 2 * slopes[0] - tangents[1];
      tangents[count] = n === 2 ? slopes[0] : 2 * slopes[count - 1] - tangents[count - 1];
    }
    for (let i = 0; i < count; i++) {
      const from = points[i][axis];
      const to = points[(i + 1) % n][axis];
      const m0 = tangents[i] * steps[i];
      const m1 = tangents[i + 1] * steps[i];
      const at = i * spanStride + axis * 4;
      coefficients[at] = from;
      coefficients[at + 1] = m0;
      coefficients[at + 2] = 3 * (to - from) - 2 * m0 - m1;
      coefficients[at + 3] = 2 * (from - to) + m0 + m1;
    }
  }

  const pointParameters = new Float64Array(path.points.length);
  let knot = -1;
  path.points.forEach((point, i) => {
    if (i === 0 || distance(point, path.points[i - 1]) > samePoint) knot++;
    pointParameters[i] = Math.min(knot, count);
  });
  return { coefficients, count, pointParameters };
}

function bSpline(path: PathData): SplineSpans {
  const n = path.points.length;
  const degree = path.closed ? 3 : Math.min(3, n - 1);
  const count = path.closed ? n : n - degree;
  const coefficients = new Float64Array(count * spanStride);
  const lastKnot = n - degree;
  const knot = (i: number) => (path.closed ? i - degree : Math.min(lastKnot, Math.max(0, i - degree)));
  const control = (i: number) => path.points[path.closed ? (i - 1 + n) % n : i];

  for (let span = 0; span < count; span++) {
    for (let axis = 0; axis < 3; axis++) {
      // Bézier points of the span by blossoming (Ramshaw 1989), then its power form.
      const bezier = new Float64Array(degree + 1);
      for (let k = 0; k <= degree; k++) {
        const d = Array.from({ length: degree + 1 }, (_, j) => control(span + j)[axis]);
        for (let round = 1; round <= degree; round++) {
          const u = round <= k ? span + 1 : span;
          for (let j = degree; j >= round; j--) {
            const left = knot(span + j);
            const right = knot(span + j + 1 + degree - round);
            const share = (u - left) / (right - left);
            d[j] = (1 - share) * d[j - 1] + share * d[j];
          }
        }
        bezier[k] = d[degree];
      }
      const at = span * spanStride + axis * 4;
      const [b0, b1, b2, b3] = bezier;
      coefficients[at] = b0;
      coefficients[at + 1] = degree * (b1 - b0);
      if (degree === 2) coefficients[at + 2] = b0 - 2 * b1 + b2;
      if (degree === 3) {
        coefficients[at + 2] = 3 * (b0 - 2 * b1 + b2);
        coefficients[at + 3] = b3 - 3 * b2 + 3 * b1 - b0;
      }
    }
  }

  // A control point stands for the mean of its inner knots (Greville abscissa).
  const pointParameters = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    if (path.closed) {
      pointParameters[i] = i;
      continue;
    }
    let sum = 0;
    for (let j = 1; j <= degree; j++) sum += knot(i + j);
    pointParameters[i] = sum / degree;
  }
  return { coefficients, count, pointParameters };
}

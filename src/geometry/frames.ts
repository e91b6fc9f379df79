import { type Curve, type CurveSamples, lastAtOrBelow } from "./curve";
import { refusal } from "./refusal";
import type { Vec3 } from "./vector";

/**
 * Unit normals of the rotation-minimising frame along sampled points, by double reflection: fourth order in the step
 * (Wang, Jüttler, Zheng, Liu 2008, "Computation of rotation minimizing frames", ACM TOG 27(1) art. 2).
 * `points`, `tangents`: x, y, z of each in turn; `first` is made square to the first tangent.
 */
export function rotationMinimisingNormals(
  points: Float64Array,
  tangents: Float64Array,
  first: Vec3,
): Float64Array {
  const count = points.length / 3;
  const normals = new Float64Array(count * 3);
  setSquare(normals, 0, first[0], first[1], first[2], tangents);
  for (let i = 0; i + 1 < count; i++) transport(points, tangents, normals, i, i + 1, i + 1);
  return normals;
}

/** Carries the normal at sample `from` to sample `to` and stores it at `into`. */
function transport(
  p: Float64Array,
  t: Float64Array,
  normals: Float64Array,
  from: number,
  to: number,
  into: number,
): void {
  const a = from * 3;
  const b = to * 3;
  let [rx, ry, rz] = [normals[a], normals[a + 1], normals[a + 2]];
  let [tx, ty, tz] = [t[a], t[a + 1], t[a + 2]];
  const [x, y, z] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const c1 = x * x + y * y + z * z;
  if (c1 > 0) {
    const kr = (2 * (x * rx + y * ry + z * rz)) / c1;
    const kt = (2 * (x * tx + y * ty + z * tz)) / c1;
    rx -= kr * x;
    ry -= kr * y;
    rz -= kr * z;
    tx -= kt * x;
    ty -= kt * y;
    tz -= kt * z;
  }
  const [vx, vy, vz] = [t[b] - tx, t[b + 1] - ty, t[b + 2] - tz];
  const c2 = vx * vx + vy * vy + vz * vz;
  if (c2 > 0) {
    const k = (2 * (vx * rx + vy * ry + vz * rz)) / c2;
    rx -= k * vx;
    ry -= k * vy;
    rz -= k * vz;
  }
  setSquare(normals, into, rx, ry, rz, t, b);
}

function setSquare(
  n: Float64Array,
  into: number,
  x: number,
  y: number,
  z: number,
  t: Float64Array,
  at = into * 3,
): void {
  const k = x * t[at] + y * t[at + 1] + z * t[at + 2];
  let [ax, ay, az] = [x - k * t[at], y - k * t[at + 1], z - k * t[at + 2]];
  let size = Math.sqrt(ax * ax + ay * ay + az * az);
  if (size < 1e-9) {
    [ax, ay, az] = defaultUp([t[at], t[at + 1], t[at + 2]]);
    size = Math.sqrt(ax * ax + ay * ay + az * az);
  }
  n[into * 3] = ax / size;
  n[into * 3 + 1] = ay / size;
  n[into * 3 + 2] = az / size;
}

/** The unit direction across a tangent that points up as far as it can; forward where the path is upright. */
export function defaultUp(tangent: Vec3): Vec3 {
  const upright = Math.abs(tangent[2]) > 0.9;
  const k = upright ? tangent[1] : tangent[2];
  const v: Vec3 = [-k * tangent[0], (upright ? 1 : 0) - k * tangent[1], (upright ? 0 : 1) - k * tangent[2]];
  const size = Math.hypot(v[0], v[1], v[2]);
  return [v[0] / size, v[1] / size, v[2] / size];
}

/** Angle in (-π, π] that turns unit vector `from` into `to` about the unit axis, radians. */
export function angleAbout(axis: Vec3, from: Vec3, to: Vec3): number {
  const c = from[0] * to[0] + from[1] * to[1] + from[2] * to[2];
  const s =
    axis[0] * (from[1] * to[2] - from[2] * to[1]) +
    axis[1] * (from[2] * to[0] - from[0] * to[2]) +
    axis[2] * (from[0] * to[1] - from[1] * to[0]);
  return Math.atan2(s, c);
}

const at3 = (a: Float64Array, i: number): Vec3 => [a[i * 3], a[i * 3 + 1], a[i * 3 + 2]];

/** Turn of the section's +Y axis against the rotation-minimising frame, radians, by share. */
export type TurnAt = (share: number) => number;

/** Axes of the section along a path: at each sample x × y = tangent. */
export interface SectionAxes {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * How the section turns along a path: the twist, for a closed path the closure angle spread over the length, and for
 * a strap what brings +Y to the given directions at the path's points (cubic between them). The rotation-minimising
 * frame itself starts with `defaultUp`. `twist` in degrees over the whole path.
 */
export function sectionTurn(
  curve: Curve,
  twist: number,
  upAtPoints?: readonly Vec3[],
  pointCount = 0,
): TurnAt {
  if (!Number.isFinite(twist)) {
    throw refusal("twist-not-finite", `the twist is ${twist}°`, "give the twist in degrees");
  }
  const twisting = (twist * Math.PI) / 180;
  if (!curve.closed && !upAtPoints) return (share) => twisting * share;

  const stations = curve.stations();
  const samples = curve.sample(stations);
  const normals = rotationMinimisingNormals(
    samples.points,
    samples.tangents,
    defaultUp(at3(samples.tangents, 0)),
  );
  const last = stations.length - 1;
  if (!upAtPoints) {
    const closure = angleAbout(at3(samples.tangents, 0), at3(normals, last), at3(normals, 0));
    return (share) => (closure + twisting) * share;
  }

  if (upAtPoints.length !== pointCount) {
    throw refusal(
      "directions-not-one-per-point",
      `${upAtPoints.length} directions are given for the ${pointCount} points of the path`,
      "give one direction for each point",
    );
  }
  const shares: number[] = [];
  const turns: number[] = [];
  upAtPoints.forEach((up, i) => {
    const share = curve.shareAtPoint(i);
    const tangent = curve.tangentAt(share);
    const k = up[0] * tangent[0] + up[1] * tangent[1] + up[2] * tangent[2];
    const across: Vec3 = [up[0] - k * tangent[0], up[1] - k * tangent[1], up[2] - k * tangent[2]];
    const size = Math.hypot(...across);
    // A direction along the path says nothing about the section: the neighbours decide.
    if (
      !(size > 1e-6 * Math.hypot(...up)) ||
      (shares.length > 0 && share <= shares[shares.length - 1] + 1e-9)
    )
      return;
    const unit: Vec3 = [across[0] / size, across[1] / size, across[2] / size];
    const node = lastAtOrBelow(stations, share);
    const pair = {
      points: Float64Array.from([...at3(samples.points, node), ...curve.pointAt(share)]),
      tangents: Float64Array.from([...at3(samples.tangents, node), ...tangent]),
    };
    const normal = at3(rotationMinimisingNormals(pair.points, pair.tangents, at3(normals, node)), 1);
    const turn = angleAbout(tangent, normal, unit);
    const before = turns.length > 0 ? turns[turns.length - 1] : turn;
    shares.push(share);
    turns.push(turn + 2 * Math.PI * Math.round((before - turn) / (2 * Math.PI)));
  });
  if (shares.length === 0) return (share) => twisting * share;
  if (curve.closed) {
    // The frame comes back turned by -closure, so the last turn must make up for it.
    const closure = angleAbout(at3(samples.tangents, 0), at3(normals, last), at3(normals, 0));
    const turn = turns[0] + closure;
    const before = turns[turns.length - 1];
    shares.push(shares[0] + 1);
    turns.push(turn + 2 * Math.PI * Math.round((before - turn) / (2 * Math.PI)));
  }
  const between = smoothThrough(shares, turns, curve.closed);
  return (share) => between(share) + twisting * share;
}

/** Cubic through knots with central-difference slopes; constant beyond them, or wrapped with the last knot's rise. */
function smoothThrough(x: readonly number[], y: readonly number[], wraps: boolean): (x: number) => number {
  const n = x.length;
  if (n === 1) return () => y[0];
  const rise = y[n - 1] - y[0];
  const chord = (i: number) => (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  const slope = x.map((_, i) => {
    const edge = i === 0 || i === n - 1;
    if (edge && !wraps) return i === 0 ? chord(0) : chord(n - 2);
    const before = edge ? n - 2 : i - 1;
    const after = edge ? 0 : i;
    const [h0, h1] = [x[before + 1] - x[before], x[after + 1] - x[after]];
    return (chord(before) * h1 + chord(after) * h0) / (h0 + h1);
  });
  return (share) => {
    let s = share;
    let base = 0;
    if (wraps && s < x[0]) {
      s += 1;
      base = -rise;
    }
    if (s <= x[0]) return y[0];
    if (s >= x[n - 1]) return y[n - 1] + base;
    const i = Math.min(n - 2, lastAtOrBelow(x, s));
    const h = x[i + 1] - x[i];
    const u = (s - x[i]) / h;
    const d = y[i + 1] - y[i];
    const [m0, m1] = [slope[i] * h - d, slope[i + 1] * h - d];
    return base + y[i] + u * d + u * (1 - u) * (m0 * (1 - u) - m1 * u);
  };
}

/** Axes of the section at ascending samples of a path that starts at share 0. */
export function sectionAxes(samples: CurveSamples, shares: ArrayLike<number>, turnAt: TurnAt): SectionAxes {
  const { count, tangents } = samples;
  const y = rotationMinimisingNormals(samples.points, tangents, defaultUp(at3(tangents, 0)));
  const x = new Float64Array(count * 3);
  for (let i = 0; i < count; i++) {
    const a = i * 3;
    const [tx, ty, tz] = [tangents[a], tangents[a + 1], tangents[a + 2]];
    const [nx, ny, nz] = [y[a], y[a + 1], y[a + 2]];
    // b = n × t completes b × n = t.
    const [bx, by, bz] = [ny * tz - nz * ty, nz * tx - nx * tz, nx * ty - ny * tx];
    const turn = turnAt(shares[i]);
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    x[a] = c * bx + s * nx;
    x[a + 1] = c * by + s * ny;
    x[a + 2] = c * bz + s * nz;
    y[a] = c * nx - s * bx;
    y[a + 1] = c * ny - s * by;
    y[a + 2] = c * nz - s * bz;
  }
  return { x, y };
}

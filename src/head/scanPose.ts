import type { Vec3 } from "../geometry/vector";

/** How a scan lies: a point x of the scan is at scale · rotation · x + shift in the head frame, mm. */
export interface ScanPose {
  /** Proper rotation, row by row: the rows are right, forward and up as the scan has them. */
  readonly rotation: readonly number[];
  /** mm in one unit of the scan. */
  readonly scale: number;
  readonly shift: Vec3;
}

export const asItIs: ScanPose = { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], scale: 1, shift: [0, 0, 0] };

/** The place in the scan that comes to lie at a point of the head frame. */
export function inScan({ rotation: r, scale, shift }: ScanPose, [x, y, z]: Vec3): Vec3 {
  const [a, b, c] = [(x - shift[0]) / scale, (y - shift[1]) / scale, (z - shift[2]) / scale];
  return [r[0] * a + r[3] * b + r[6] * c, r[1] * a + r[4] * b + r[7] * c, r[2] * a + r[5] * b + r[8] * c];
}

/** The product of two 3 × 3 matrices, row by row. */
export const times = (a: readonly number[], b: readonly number[]): number[] =>
  a.map((_, i) => {
    const [row, column] = [3 * Math.floor(i / 3), i % 3];
    return a[row] * b[column] + a[row + 1] * b[column + 3] + a[row + 2] * b[column + 6];
  });

/** The pose with the same rotation that brings a place of the scan to the origin of the head frame, at a scale. */
export function poseAbout(rotation: readonly number[], scale: number, origin: Vec3): ScanPose {
  const r = rotation;
  const [x, y, z] = origin;
  return {
    rotation,
    scale,
    shift: [
      -scale * (r[0] * x + r[1] * y + r[2] * z),
      -scale * (r[3] * x + r[4] * y + r[5] * z),
      -scale * (r[6] * x + r[7] * y + r[8] * z),
    ],
  };
}

/** The same pose, then turned, grown and moved about a centre of the head frame (Rodrigues' formula). */
export function movedBy(pose: ScanPose, centre: Vec3, turn: Vec3, growth: number, move: Vec3): ScanPose {
  const angle = Math.hypot(...turn);
  const [x, y, z] = angle > 0 ? turn.map((value) => value / angle) : [0, 0, 1];
  const [s, c] = [Math.sin(angle), Math.cos(angle)];
  const k = 1 - c;
  const step = [
    c + x * x * k,
    x * y * k - z * s,
    x * z * k + y * s,
    y * x * k + z * s,
    c + y * y * k,
    y * z * k - x * s,
    z * x * k - y * s,
    z * y * k + x * s,
    c + z * z * k,
  ];
  const from = pose.shift.map((value, axis) => value - centre[axis]);
  const shift = [0, 1, 2].map(
    (axis) =>
      centre[axis] +
      move[axis] +
      growth * (step[3 * axis] * from[0] + step[3 * axis + 1] * from[1] + step[3 * axis + 2] * from[2]),
  );
  return {
    rotation: orthonormal(times(step, pose.rotation)),
    scale: growth * pose.scale,
    shift: [shift[0], shift[1], shift[2]],
  };
}

/** Takes out what rounding adds to a rotation over many steps (Gram-Schmidt). */
function orthonormal(r: readonly number[]): number[] {
  const up = Math.hypot(r[6], r[7], r[8]);
  const [ux, uy, uz] = [r[6] / up, r[7] / up, r[8] / up];
  const along = r[3] * ux + r[4] * uy + r[5] * uz;
  const rest = [r[3] - along * ux, r[4] - along * uy, r[5] - along * uz];
  const size = Math.hypot(...rest);
  const [fx, fy, fz] = rest.map((value) => value / size);
  return [fy * uz - fz * uy, fz * ux - fx * uz, fx * uy - fy * ux, fx, fy, fz, ux, uy, uz];
}

/** Angle between two rotations, radians. */
export function angleBetween(a: readonly number[], b: readonly number[]): number {
  let trace = 0;
  for (let i = 0; i < 9; i++) trace += a[i] * b[i];
  return Math.acos(Math.min(1, Math.max(-1, (trace - 1) / 2)));
}

/** The pose as a 4 × 4 matrix, column by column. */
export function matrixOf({ rotation: r, scale: s, shift }: ScanPose): number[] {
  const columns = [0, 1, 2].flatMap((column) => [s * r[column], s * r[column + 3], s * r[column + 6], 0]);
  return [...columns, ...shift, 1];
}

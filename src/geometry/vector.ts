/** Small vector algebra over plain triples (mm, head frame: +X right, +Y forward, +Z up). */

export type Vec2 = readonly [number, number];
export type Vec3 = readonly [number, number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
/** a + k·b */
export const addScaled = (a: Vec3, b: Vec3, k: number): Vec3 => [
  a[0] + k * b[0],
  a[1] + k * b[1],
  a[2] + k * b[2],
];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2]);
export const distance = (a: Vec3, b: Vec3): number => length(subtract(a, b));
/** Unit vector along `a`; `fallback` when `a` has no length. */
export const normalize = (a: Vec3, fallback: Vec3 = [0, 0, 1]): Vec3 => {
  const l = length(a);
  return l > 1e-12 ? [a[0] / l, a[1] / l, a[2] / l] : fallback;
};
export const lerp = (a: Vec3, b: Vec3, t: number): Vec3 => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
  a[2] + (b[2] - a[2]) * t,
];
/** Rotates `v` about the unit `axis` by `angle` radians (Rodrigues' formula). */
export const rotateAbout = (v: Vec3, axis: Vec3, angle: number): Vec3 => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const k = dot(axis, v) * (1 - c);
  const w = cross(axis, v);
  return [
    v[0] * c + w[0] * s + axis[0] * k,
    v[1] * c + w[1] * s + axis[1] * k,
    v[2] * c + w[2] * s + axis[2] * k,
  ];
};
/** Any unit vector across `a`. */
export const anyPerpendicular = (a: Vec3): Vec3 =>
  normalize(Math.abs(a[0]) < 0.9 * length(a) ? cross(a, [1, 0, 0]) : cross(a, [0, 1, 0]));

export const degrees = (radians: number): number => (radians * 180) / Math.PI;
export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
export const clamp = (x: number, least: number, most: number): number => Math.min(most, Math.max(least, x));

/** A point or a direction, head frame, mm. */
export type Vector = readonly [number, number, number];

export const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** `a` and `share` times `b`. */
export const along = (a: Vector, b: Vector, share: number): Vector => [
  a[0] + share * b[0],
  a[1] + share * b[1],
  a[2] + share * b[2],
];

export const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

/** Throws a RangeError for the null vector, which has no direction. */
export function unit(a: Vector): Vector {
  const length = Math.hypot(a[0], a[1], a[2]);
  if (!(length > 0)) throw new RangeError("the null vector has no direction");
  return [a[0] / length, a[1] / length, a[2] / length];
}

import { noValue } from "../fieldScale";
import type { FieldMessage } from "../protocol";
import type { Vector } from "./vector";

/** Values at the vertices of the solid of one version. */
export interface FieldValues {
  readonly version: number;
  /** Hundredths of a mm, `noValue` for none. */
  readonly values: Int16Array;
}

export const fieldValues = ({ version, values }: FieldMessage): FieldValues => ({
  version,
  values: new Int16Array(values),
});

/**
 * The values at the vertices that are drawn, each with 1 where there is one: a vertex of the mesh may be drawn several
 * times. Corner by corner `drawn` names the same vertices as `triangles`.
 */
export function drawnValues(
  values: Int16Array,
  triangles: Uint32Array,
  drawn: ArrayLike<number>,
  drawnCount: number,
): Int16Array {
  const pairs = new Int16Array(2 * drawnCount);
  for (let i = 0; i < triangles.length; i++) {
    const value = values[triangles[i]];
    if (value === noValue) continue;
    const at = 2 * drawn[i];
    pairs[at] = value;
    pairs[at + 1] = 1;
  }
  return pairs;
}

/** The value at a point of a triangle, mm; undefined where one of its corners has none. */
export function valueAt(
  values: Int16Array,
  positions: Float32Array,
  triangles: Uint32Array,
  triangle: number,
  point: Vector,
): number | undefined {
  const corners = [0, 1, 2].map((i) => triangles[3 * triangle + i]);
  const known = corners.map((corner) => values[corner]);
  if (known.includes(noValue)) return undefined;
  const [a, b, c] = corners.map(
    (v): Vector => [positions[3 * v], positions[3 * v + 1], positions[3 * v + 2]],
  );
  // Each corner counts by the area that lies across from it.
  const areas = [areaOf(point, b, c), areaOf(a, point, c), areaOf(a, b, point)];
  const whole = areas[0] + areas[1] + areas[2];
  if (!(whole > 0)) return known[0] / 100;
  return areas.reduce((sum, area, i) => sum + area * known[i], 0) / whole / 100;
}

/** Twice the area of a triangle, mm². */
function areaOf(a: Vector, b: Vector, c: Vector): number {
  const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
}

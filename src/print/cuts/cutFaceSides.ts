import type { PartMesh } from "../../geometry/mesh";
import { normalize, type Vec3 } from "../../geometry/vector";
import { cutFaceOfPart } from "./planeSection";

/** One side of a cut face, on a body that has it. */
export interface CutFaceSide {
  readonly face: number;
  /** mm */
  readonly centre: Vec3;
  /** Unit vector out of the body. */
  readonly outward: Vec3;
  /** mm² */
  readonly area: number;
}

/** The cut faces of a body, by number. */
export function cutFaceSides({ positions: p, triangles, partOfTriangle }: PartMesh): CutFaceSide[] {
  const sums = new Map<number, number[]>();
  for (let t = 0; t < partOfTriangle.length; t++) {
    if (partOfTriangle[t] > -2) continue;
    const face = cutFaceOfPart(partOfTriangle[t]);
    let sum = sums.get(face);
    if (!sum) {
      sum = [0, 0, 0, 0, 0, 0, 0];
      sums.set(face, sum);
    }
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const area = Math.hypot(n[0], n[1], n[2]) / 2;
    sum[6] += area;
    for (let axis = 0; axis < 3; axis++) {
      sum[axis] += n[axis] / 2;
      sum[3 + axis] += (area * (p[a + axis] + p[b + axis] + p[c + axis])) / 3;
    }
  }
  return [...sums]
    .sort(([a], [b]) => a - b)
    .filter(([, sum]) => sum[6] > 0)
    .map(([face, sum]) => ({
      face,
      area: sum[6],
      outward: normalize([sum[0], sum[1], sum[2]]),
      centre: [sum[3] / sum[6], sum[4] / sum[6], sum[5] / sum[6]],
    }));
}

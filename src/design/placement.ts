import type { TriangleMesh } from "../geometry/mesh";
import type { Vec3 } from "../geometry/vector";
import {
  anyPerpendicular,
  cross,
  normalize,
  radians,
  rotateAbout,
  scale,
  subtract,
} from "../geometry/vector";
import { directionOf, number, oneOf, shown } from "./check";
import { designError } from "./error";
import { PathPoint, type PointLike, toPoint } from "./point";

/** Where a body stands and which way it looks. */
export interface Placement {
  /** Where the body's own origin goes; the origin of the head frame unless given. */
  at?: PointLike;
  /**
   * Where the body's own +Z points: `"out"`, off the head (so unless given, where `at` is a point of the head or
   * of a path); `"up"`; `"along"` the path that the point is of; or a direction `[x, y, z]`.
   */
  facing?: "out" | "up" | "along" | Vec3;
  /** Turn about that direction, degrees. */
  turn?: number;
}

export const placementNames = ["at", "facing", "turn"] as const;

/** A mesh moved from its own frame to its place in the head frame. */
export function placed(mesh: TriangleMesh, placement: Placement, what: string): TriangleMesh {
  const at = placement.at === undefined ? undefined : toPoint(placement.at, `at of ${what}`);
  const z = facingOf(placement, at, what);
  // The body's own +Y stays as near to upright as the facing allows, so that a turn of 0 is foreseeable.
  const upright = subtract([0, 0, 1], scale(z, z[2]));
  const level: Vec3 = Math.hypot(...upright) > 1e-3 ? upright : subtract([0, 1, 0], scale(z, z[1]));
  const y0 = z[2] > 1 - 1e-9 ? ([0, 1, 0] as Vec3) : normalize(level, anyPerpendicular(z));
  const y = rotateAbout(y0, z, radians(number(placement.turn ?? 0, `turn of ${what}`)));
  const x = cross(y, z);
  const origin = at?.position ?? [0, 0, 0];
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [u, v, w] = [mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]];
    for (let axis = 0; axis < 3; axis++) {
      positions[i + axis] = origin[axis] + x[axis] * u + y[axis] * v + z[axis] * w;
    }
  }
  return { positions, triangles: mesh.triangles };
}

function facingOf(placement: Placement, at: ReturnType<typeof toPoint> | undefined, what: string): Vec3 {
  const { facing } = placement;
  if (Array.isArray(facing)) return directionOf(facing, `facing of ${what}`);
  const word = oneOf(facing ?? (at && !Array.isArray(placement.at) ? "out" : "up"), `facing of ${what}`, [
    "out",
    "up",
    "along",
  ] as const);
  if (word === "up") return [0, 0, 1];
  if (!at || (word === "along" && !(at instanceof PathPoint))) {
    throw designError({
      id: "no-direction",
      text: `facing of ${what} is "${word}", and at is ${shown(placement.at)}`,
      suggestion: word === "along" ? "give at as a point of a path" : "give at as a point of the head",
    });
  }
  return word === "along" ? (at as PathPoint).along : at.out;
}

import type { PartMesh } from "../../geometry/mesh";
import type { SignedDistance } from "../../geometry/signedDistance";
import { emptyPlace } from "../../geometry/triangleTree";
import { normalize, type Vec3 } from "../../geometry/vector";

/** A place of the surface where a neck touches it, plate's frame. */
export interface Contact {
  readonly at: Vec3;
  /** Unit normal of the surface there. */
  readonly normal: Vec3;
  /** Index of the part there, −1 for none. */
  readonly part: number;
}

/** A place that lies farther than this from the piece is under none of it, mm. */
export const farthestFromPiece = 10;

/**
 * Where a prop under a place touches: for a place within the piece, a tube's centre line say, where the straight way down
 * comes out; for one outside, the surface straight above it, or else the nearest. Undefined where the piece is more than
 * 10 mm away.
 */
export function contactUnder(mesh: PartMesh, distance: SignedDistance, [x, y, z]: Vec3): Contact | undefined {
  const { tree } = distance;
  const place = emptyPlace();
  const depth = distance.at(x, y, z, Infinity);
  const isInside = depth < -1e-6;
  const way = isInside
    ? -tree.firstHit(x, y, z, 0, 0, -1)
    : tree.firstHit(x, y, z - 1e-3, 0, 0, 1, farthestFromPiece) - 1e-3;
  const found = isInside ? way < 0 : way > -1e-3;
  if (!found && depth > farthestFromPiece) return undefined;
  tree.nearest(x, y, found ? z + way : z, place);
  if (place.triangle < 0) return undefined;
  return {
    at: [place.x, place.y, place.z],
    normal: normalAt(distance, place.triangle),
    part: mesh.partOfTriangle[place.triangle],
  };
}

function normalAt({ faceNormals }: SignedDistance, triangle: number): Vec3 {
  const n: Vec3 = [faceNormals[3 * triangle], faceNormals[3 * triangle + 1], faceNormals[3 * triangle + 2]];
  return normalize(n, [0, 0, -1]);
}

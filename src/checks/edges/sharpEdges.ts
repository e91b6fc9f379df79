import { oppositeHalves } from "../../geometry/edgeTable";
import { faceNormals } from "../../geometry/faceNormals";
import type { TriangleMesh } from "../../geometry/mesh";
import { cross, degrees, distance, length, subtract, type Vec3 } from "../../geometry/vector";
import type { WornPiece } from "../wornPiece";

/** Acute edges of one part. */
export interface SharpEdges {
  readonly part: number;
  /** mm in all. */
  readonly length: number;
  /** The most acute of them, degrees between its two faces, inside. */
  readonly angle: number;
  /** Its middle, mm. */
  readonly at: Vec3;
}

/** A triangle flatter than this has no direction that could be trusted, mm. */
const leastHeight = 0.05;
/** Edges of one part that are shorter in all are no edge to feel, mm. */
const leastLength = 5;

/**
 * Edges of the solid whose faces meet at less than `acute` degrees, outwards, by part: the rims of cuts, and where the
 * hollow of the head leaves a feather edge. Longest first.
 */
export function sharpEdges(piece: WornPiece, acute: number): SharpEdges[] {
  const { mesh } = piece;
  const { positions: p } = mesh;
  const opposite = oppositeHalves(mesh);
  const normals = faceNormals(mesh);
  const acuteCosine = -Math.cos((acute * Math.PI) / 180);
  const found = new Map<number, { length: number; cosine: number; at: Vec3 }>();
  for (let half = 0; half < opposite.length; half++) {
    // Each edge once.
    if (opposite[half] < half) continue;
    const one = (half / 3) | 0;
    const other = (opposite[half] / 3) | 0;
    const cosine =
      normals[3 * one] * normals[3 * other] +
      normals[3 * one + 1] * normals[3 * other + 1] +
      normals[3 * one + 2] * normals[3 * other + 2];
    if (cosine > acuteCosine) continue;
    if (heightOf(mesh, one) < leastHeight || heightOf(mesh, other) < leastHeight) continue;
    const a = 3 * mesh.triangles[half];
    const b = 3 * mesh.triangles[half % 3 === 2 ? half - 2 : half + 1];
    // The corner of the other triangle that is not on the edge.
    const far = 3 * mesh.triangles[3 * other + ((opposite[half] + 2) % 3)];
    const above =
      (p[far] - p[a]) * normals[3 * one] +
      (p[far + 1] - p[a + 1]) * normals[3 * one + 1] +
      (p[far + 2] - p[a + 2]) * normals[3 * one + 2];
    // A crease inwards pricks nobody.
    if (above >= 0) continue;
    const length = Math.hypot(p[a] - p[b], p[a + 1] - p[b + 1], p[a + 2] - p[b + 2]);
    const part = piece.partOf(one);
    const at: Vec3 = [(p[a] + p[b]) / 2, (p[a + 1] + p[b + 1]) / 2, (p[a + 2] + p[b + 2]) / 2];
    const known = found.get(part);
    if (!known) found.set(part, { length, cosine, at });
    else {
      known.length += length;
      if (cosine < known.cosine) {
        known.cosine = cosine;
        known.at = at;
      }
    }
  }
  return [...found]
    .filter(([, { length }]) => length >= leastLength)
    .map(([part, { length, cosine, at }]) => ({
      part,
      length,
      angle: 180 - degrees(Math.acos(Math.max(-1, cosine))),
      at,
    }))
    .sort((a, b) => b.length - a.length);
}

/** Least height of a triangle, mm. */
function heightOf({ positions: p, triangles }: TriangleMesh, triangle: number): number {
  const corner = (k: number): Vec3 => {
    const at = 3 * triangles[3 * triangle + k];
    return [p[at], p[at + 1], p[at + 2]];
  };
  const [a, b, c] = [corner(0), corner(1), corner(2)];
  const longest = Math.max(distance(a, b), distance(b, c), distance(c, a));
  return longest > 0 ? length(cross(subtract(b, a), subtract(c, a))) / longest : 0;
}

import { oppositeHalves } from "../../geometry/edgeTable";
import { degrees, type Vec3 } from "../../geometry/vector";
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
  const faces = faceNormalsAndHeights(mesh.positions, mesh.triangles);
  const acuteCosine = -Math.cos((acute * Math.PI) / 180);
  const found = new Map<number, { length: number; cosine: number; at: Vec3 }>();
  for (let half = 0; half < opposite.length; half++) {
    // Each edge once.
    if (opposite[half] < half) continue;
    const one = (half / 3) | 0;
    const other = (opposite[half] / 3) | 0;
    const cosine =
      faces.normals[3 * one] * faces.normals[3 * other] +
      faces.normals[3 * one + 1] * faces.normals[3 * other + 1] +
      faces.normals[3 * one + 2] * faces.normals[3 * other + 2];
    if (cosine > acuteCosine) continue;
    if (faces.heights[one] < leastHeight || faces.heights[other] < leastHeight) continue;
    const a = 3 * mesh.triangles[half];
    const b = 3 * mesh.triangles[half % 3 === 2 ? half - 2 : half + 1];
    // The corner of the other triangle that is not on the edge.
    const far = 3 * mesh.triangles[3 * other + ((opposite[half] + 2) % 3)];
    const above =
      (p[far] - p[a]) * faces.normals[3 * one] +
      (p[far + 1] - p[a + 1]) * faces.normals[3 * one + 1] +
      (p[far + 2] - p[a + 2]) * faces.normals[3 * one + 2];
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

/** Unit normal of each triangle, and its least height, mm. */
function faceNormalsAndHeights(p: Float32Array, triangles: Uint32Array) {
  const normals = new Float32Array(triangles.length);
  const heights = new Float32Array(triangles.length / 3);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (twice === 0) continue;
    normals[t] = nx / twice;
    normals[t + 1] = ny / twice;
    normals[t + 2] = nz / twice;
    const [wx, wy, wz] = [vx - ux, vy - uy, vz - uz];
    const longest = Math.sqrt(
      Math.max(ux * ux + uy * uy + uz * uz, vx * vx + vy * vy + vz * vz, wx * wx + wy * wy + wz * wz),
    );
    heights[t / 3] = twice / longest;
  }
  return { normals, heights };
}

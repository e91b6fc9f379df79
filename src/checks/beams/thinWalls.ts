import { emptyPlace } from "../../geometry/triangleTree";
import type { Vec3 } from "../../geometry/vector";
import type { WornPiece } from "../wornPiece";

/** Thin walls of one part. */
export interface ThinWall {
  /** Index of the part; −1 where the surface belongs to none. */
  readonly part: number;
  /** Least thickness found, mm. */
  readonly least: number;
  readonly at: Vec3;
  /** Surface over which the wall is thinner than the limit, mm²: each wall once, not once for each side. */
  readonly area: number;
  /** Share of that area where the head's hollow or a cut is one of the two faces, 0 to 1. */
  readonly hollowed: number;
}

/** Samples that are looked at, about. */
const mostSamples = 15_000;
/** Faces of a wall look away from each other, within so much of straight, cosine: 150°. */
const facing = -Math.cos(Math.PI / 6);
/** Rays that confirm a wall lean by so much, and so many of four must meet a face no farther than this. */
const lean = Math.tan((20 * Math.PI) / 180);
const confirmations = 2;
const confirmWithin = 1.6;

/**
 * Walls of a piece that are thinner than `limit` mm, by part: from samples of its surface a ray inward to the opposite
 * face. A meeting of faces at less than 150° is an edge and not a wall, and two of four leaning rays must find the wall
 * thin as well, so that slivers of rounding do not count.
 */
export function thinWallsOf(piece: WornPiece, limit: number): ThinWall[] {
  const { samples, tree, mesh } = piece;
  const { count, positions, normals, areas, triangles } = samples;
  const stride = Math.max(1, Math.floor(count / mostSamples));
  const found = new Map<number, { least: number; at: Vec3; area: number; hollowed: number }>();
  const place = emptyPlace();
  // Skipped samples are stood for by those that are looked at.
  let [looked, whole] = [0, 0];
  for (let i = 0; i < count; i++) {
    whole += areas[i];
    if (i % stride === 0) looked += areas[i];
  }
  const standsFor = looked > 0 ? whole / looked : 1;
  for (let i = 0; i < count; i += stride) {
    const [px, py, pz] = [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
    const [nx, ny, nz] = [normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]];
    if (nx === 0 && ny === 0 && nz === 0) continue;
    // The surface's own triangles are met within rounding: coordinates are 32-bit.
    const skip = 1e-3 + 1e-6 * (Math.abs(px) + Math.abs(py) + Math.abs(pz));
    const thickness = tree.firstHit(px, py, pz, -nx, -ny, -nz, limit, skip);
    if (thickness < 0) continue;
    tree.nearest(px - nx * thickness, py - ny * thickness, pz - nz * thickness, place, 0.1);
    if (place.triangle < 0 || facingOf(mesh, place.triangle, nx, ny, nz) > facing) continue;
    if (!isConfirmed(piece, px, py, pz, nx, ny, nz, thickness, skip)) continue;
    const part = piece.partOf(triangles[i]);
    const known = found.get(part);
    // Both faces of a wall are sampled: each counts half.
    const area = (areas[i] * standsFor) / 2;
    const isHollowed = mesh.partOfTriangle[triangles[i]] < 0 || mesh.partOfTriangle[place.triangle] < 0;
    const hollowed = isHollowed ? area : 0;
    if (!known) found.set(part, { least: thickness, at: [px, py, pz], area, hollowed });
    else {
      known.area += area;
      known.hollowed += hollowed;
      if (thickness < known.least) {
        known.least = thickness;
        known.at = [px, py, pz];
      }
    }
  }
  return [...found]
    .map(([part, wall]) => ({ part, ...wall, hollowed: wall.area > 0 ? wall.hollowed / wall.area : 0 }))
    .sort((a, b) => b.area - a.area || a.part - b.part);
}

/** Cosine between a triangle's normal and a direction; 1 for a triangle without area. */
function facingOf(
  { positions: p, triangles }: WornPiece["mesh"],
  t: number,
  x: number,
  y: number,
  z: number,
): number {
  const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const size = Math.hypot(nx, ny, nz);
  return size > 0 ? (nx * x + ny * y + nz * z) / size : 1;
}

function isConfirmed(
  { tree }: WornPiece,
  px: number,
  py: number,
  pz: number,
  nx: number,
  ny: number,
  nz: number,
  thickness: number,
  skip: number,
): boolean {
  // Two directions across the normal.
  const flat = Math.abs(nx) < 0.6;
  let [ux, uy, uz] = flat ? [0, nz, -ny] : [-nz, 0, nx];
  const size = Math.hypot(ux, uy, uz);
  [ux, uy, uz] = [ux / size, uy / size, uz / size];
  const [vx, vy, vz] = [ny * uz - nz * uy, nz * ux - nx * uz, nx * uy - ny * ux];
  const length = Math.hypot(1, lean);
  let confirmed = 0;
  for (let k = 0; k < 4; k++) {
    const [s, t] = k === 0 ? [lean, 0] : k === 1 ? [-lean, 0] : k === 2 ? [0, lean] : [0, -lean];
    const dx = (-nx + s * ux + t * vx) / length;
    const dy = (-ny + s * uy + t * vy) / length;
    const dz = (-nz + s * uz + t * vz) / length;
    // From a little inside, so that a face that leans towards the ray is not its own hit.
    const hit = tree.firstHit(
      px - nx * thickness * 0.2,
      py - ny * thickness * 0.2,
      pz - nz * thickness * 0.2,
      dx,
      dy,
      dz,
      confirmWithin * thickness,
      skip,
    );
    if (hit >= 0.3 * thickness) confirmed++;
  }
  return confirmed >= confirmations;
}

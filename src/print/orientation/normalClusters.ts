import type { PartMesh } from "../../geometry/mesh";
import { shownShare } from "./visibility";

/**
 * A closed surface as a few directions of its normals. What looks one way is one cluster: sums over triangles that are
 * linear in place or in area need no more of them.
 */
export interface NormalClusters {
  readonly count: number;
  /** Unit normal of each, x, y, z in turn. */
  readonly normals: Float64Array;
  /** Middle of its area, x, y, z in turn, mm. */
  readonly middles: Float64Array;
  /** mm² */
  readonly areas: Float64Array;
  /** The same, each place by how much it shows. */
  readonly shown: Float64Array;
  /** Volume that the surface encloses, mm³. */
  readonly volume: number;
  readonly area: number;
}

/** Steps across each side of the cube on to which normals are projected: about 3° each. */
const steps = 32;

/**
 * The clusters of a mesh.
 * @throws RangeError for a mesh without triangles or area, or with places that are not finite
 */
export function normalClusters({ positions: p, triangles, partOfTriangle }: PartMesh): NormalClusters {
  if (triangles.length === 0) throw new RangeError("The mesh has no triangles: there is nothing to print.");
  const clusterAt = new Int32Array(6 * steps * steps).fill(-1);
  let count = 0;
  let room = 1024;
  // Per cluster: vector area, middle times area, area, shown area.
  let sums = new Float64Array(8 * room);
  let [volume, whole] = [0, 0];
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const [ax, ay, az] = [p[a], p[a + 1], p[a + 2]];
    const [bx, by, bz] = [p[b], p[b + 1], p[b + 2]];
    const [cx, cy, cz] = [p[c], p[c + 1], p[c + 2]];
    const ux = bx - ax;
    const uy = by - ay;
    const uz = bz - az;
    const vx = cx - ax;
    const vy = cy - ay;
    const vz = cz - az;
    const nx = (uy * vz - uz * vy) / 2;
    const ny = (uz * vx - ux * vz) / 2;
    const nz = (ux * vy - uy * vx) / 2;
    const area = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(area > 0)) {
      if (Number.isNaN(area)) throw new RangeError(`Triangle ${t / 3} has a place that is not finite.`);
      continue;
    }
    const mx = (ax + bx + cx) / 3;
    const my = (ay + by + cy) / 3;
    const mz = (az + bz + cz) / 3;
    volume += (nx * mx + ny * my + nz * mz) / 3;
    whole += area;
    const bin = binOf(nx, ny, nz);
    let k = clusterAt[bin];
    if (k < 0) {
      if (count === room) {
        room *= 2;
        const larger = new Float64Array(8 * room);
        larger.set(sums);
        sums = larger;
      }
      k = clusterAt[bin] = count++;
    }
    const shown = shownShare([mx, my, mz], [nx / area, ny / area, nz / area], partOfTriangle[t / 3] < 0);
    const at = 8 * k;
    sums[at] += nx;
    sums[at + 1] += ny;
    sums[at + 2] += nz;
    sums[at + 3] += area * mx;
    sums[at + 4] += area * my;
    sums[at + 5] += area * mz;
    sums[at + 6] += area;
    sums[at + 7] += area * shown;
  }
  if (!(whole > 0) || !Number.isFinite(whole)) {
    throw new RangeError(`The mesh has an area of ${whole} mm²: it must be finite and above zero.`);
  }
  const normals = new Float64Array(3 * count);
  const middles = new Float64Array(3 * count);
  const areas = new Float64Array(count);
  const shown = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const at = 8 * k;
    const size = Math.hypot(sums[at], sums[at + 1], sums[at + 2]);
    for (let axis = 0; axis < 3; axis++) {
      normals[3 * k + axis] = sums[at + axis] / size;
      middles[3 * k + axis] = sums[at + 3 + axis] / sums[at + 6];
    }
    areas[k] = sums[at + 6];
    shown[k] = sums[at + 7];
  }
  return { count, normals, middles, areas, shown, volume: Math.abs(volume), area: whole };
}

/** The cell of the cube about the origin through which a vector passes. */
function binOf(x: number, y: number, z: number): number {
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  const az = Math.abs(z);
  let side: number;
  let u: number;
  let v: number;
  let w: number;
  if (ax >= ay && ax >= az) [side, u, v, w] = [x > 0 ? 0 : 1, y, z, ax];
  else if (ay >= az) [side, u, v, w] = [y > 0 ? 2 : 3, x, z, ay];
  else [side, u, v, w] = [z > 0 ? 4 : 5, x, y, az];
  const cell = (value: number): number => Math.min(steps - 1, (((value / w + 1) / 2) * steps) | 0);
  return (side * steps + cell(u)) * steps + cell(v);
}

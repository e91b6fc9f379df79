import type { TriangleMesh } from "../../geometry/mesh";
import { normalize, type Vec3 } from "../../geometry/vector";
import { angleBetween } from "./directions";

/** A triangle whose own plane lies deeper than this in the hull can hardly stand on the plate, mm. */
const deepest = 1;
/** Least share of its own downward look that a standing surface has: one within a layer of the plate is nearly level. */
const leastLevel = 0.5;
/** Steps across each side of the cube on to which normals are projected. */
const steps = 24;

/** The surfaces on which a piece can stand: those near its hull. */
export class StandingFaces {
  /** Corners of each, nine numbers in turn, mm; unit normal; area, mm². */
  readonly #corners: Float64Array;
  readonly #normals: Float64Array;
  readonly #areas: Float64Array;
  readonly #count: number;
  /** Room for the faces near the plate of the direction that is asked for. */
  readonly #near: Int32Array;

  /** @param extremes the piece's outermost points, x, y, z in turn (see `extremePoints`) */
  constructor({ positions: p, triangles }: TriangleMesh, extremes: Float64Array) {
    const corners: number[] = [];
    const normals: number[] = [];
    const areas: number[] = [];
    // How far the piece reaches along the middle of each cell of normals, found at need.
    const farthest = new Int32Array(6 * steps * steps).fill(-1);
    for (let t = 0; t < triangles.length; t += 3) {
      const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
      const ux = p[b] - p[a];
      const uy = p[b + 1] - p[a + 1];
      const uz = p[b + 2] - p[a + 2];
      const vx = p[c] - p[a];
      const vy = p[c + 1] - p[a + 1];
      const vz = p[c + 2] - p[a + 2];
      let nx = uy * vz - uz * vy;
      let ny = uz * vx - ux * vz;
      let nz = ux * vy - uy * vx;
      const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
      if (!(twice > 0)) continue;
      nx /= twice;
      ny /= twice;
      nz /= twice;
      const bin = cellOf(nx, ny, nz);
      let far = farthest[bin];
      if (far < 0) {
        let reach = -Infinity;
        for (let i = 0; i < extremes.length; i += 3) {
          const here = extremes[i] * nx + extremes[i + 1] * ny + extremes[i + 2] * nz;
          if (here > reach) {
            reach = here;
            far = i;
          }
        }
        farthest[bin] = far;
      }
      // The farthest point of the cell is a lower bound for each normal in it: what lies deeper is out for sure.
      const own = p[a] * nx + p[a + 1] * ny + p[a + 2] * nz;
      if (extremes[far] * nx + extremes[far + 1] * ny + extremes[far + 2] * nz - own > deepest) continue;
      corners.push(p[a], p[a + 1], p[a + 2], p[b], p[b + 1], p[b + 2], p[c], p[c + 1], p[c + 2]);
      normals.push(nx, ny, nz);
      areas.push(twice / 2);
    }
    this.#corners = Float64Array.from(corners);
    this.#normals = Float64Array.from(normals);
    this.#areas = Float64Array.from(areas);
    this.#count = areas.length;
    this.#near = new Int32Array(areas.length);
  }

  /**
   * Area within `reach` of the plate when `up` looks up, seen from above, mm². `bottom`: least of place · up, as far as it is
   * known; a lower corner of these faces goes before it.
   */
  areaOnPlate(up: Vec3, bottom: number, reach: number): number {
    const n = this.#normals;
    const q = this.#corners;
    const [x, y, z] = up;
    let lowest = bottom;
    let near = 0;
    for (let i = 0; i < this.#count; i++) {
      if (n[3 * i] * x + n[3 * i + 1] * y + n[3 * i + 2] * z > -leastLevel) continue;
      const at = 9 * i;
      const a = q[at] * x + q[at + 1] * y + q[at + 2] * z;
      const b = q[at + 3] * x + q[at + 4] * y + q[at + 5] * z;
      const c = q[at + 6] * x + q[at + 7] * y + q[at + 8] * z;
      const least = Math.min(a, b, c);
      if (least > bottom + reach) continue;
      if (least < lowest) lowest = least;
      this.#near[near++] = i;
    }
    let sum = 0;
    for (let k = 0; k < near; k++) {
      const i = this.#near[k];
      const at = 9 * i;
      const level = -(n[3 * i] * x + n[3 * i + 1] * y + n[3 * i + 2] * z);
      const a = q[at] * x + q[at + 1] * y + q[at + 2] * z - lowest;
      const b = q[at + 3] * x + q[at + 4] * y + q[at + 5] * z - lowest;
      const c = q[at + 6] * x + q[at + 7] * y + q[at + 8] * z - lowest;
      sum += level * this.#areas[i] * shareBelow(a, b, c, reach);
    }
    return sum;
  }

  /** Directions that must look up for the largest flat faces to lie on the plate, the largest first. */
  flatDirections(most: number): Vec3[] {
    const groups = new Map<number, { area: number; sum: [number, number, number] }>();
    const n = this.#normals;
    for (let i = 0; i < this.#count; i++) {
      const bin = cellOf(n[3 * i], n[3 * i + 1], n[3 * i + 2]);
      const group = groups.get(bin) ?? { area: 0, sum: [0, 0, 0] };
      groups.set(bin, group);
      group.area += this.#areas[i];
      for (let axis = 0; axis < 3; axis++) group.sum[axis] -= n[3 * i + axis] * this.#areas[i];
    }
    const found: Vec3[] = [];
    for (const { sum } of [...groups.values()].sort((a, b) => b.area - a.area)) {
      const up = normalize(sum);
      if (found.every((other) => angleBetween(up, other) > 0.5)) found.push(up);
      if (found.length === most) break;
    }
    return found;
  }
}

/** Share of a triangle's area in which a height, given at its corners, is below a level. */
export function shareBelow(a: number, b: number, c: number, level: number): number {
  const least = Math.min(a, b, c);
  const most = Math.max(a, b, c);
  if (most <= level) return 1;
  if (least >= level) return 0;
  const middle = a + b + c - least - most;
  // The part below grows with the square of the height from the lowest corner, and shrinks so towards the highest.
  if (level <= middle) return (level - least) ** 2 / ((most - least) * (middle - least) || 1);
  return 1 - (most - level) ** 2 / ((most - least) * (most - middle) || 1);
}

function cellOf(x: number, y: number, z: number): number {
  const [ax, ay, az] = [Math.abs(x), Math.abs(y), Math.abs(z)];
  const cell = (value: number, by: number): number =>
    Math.min(steps - 1, (((value / by + 1) / 2) * steps) | 0);
  if (ax >= ay && ax >= az) return ((x > 0 ? 0 : 1) * steps + cell(y, ax)) * steps + cell(z, ax);
  if (ay >= az) return ((y > 0 ? 2 : 3) * steps + cell(x, ay)) * steps + cell(z, ay);
  return ((z > 0 ? 4 : 5) * steps + cell(x, az)) * steps + cell(y, az);
}

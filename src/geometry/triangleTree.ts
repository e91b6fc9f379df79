import type { TriangleMesh } from "./mesh";
import { mostDepth, triangleBoxes } from "./triangleBoxes";

/** The nearest place of a mesh to a point; written over by each question. */
export interface NearestPlace {
  /** mm; Infinity when nothing lies within the distance asked for. */
  distance: number;
  /** −1 when nothing was found. */
  triangle: number;
  x: number;
  y: number;
  z: number;
  /** Weights of the triangle's corners there. */
  weights: [number, number, number];
}

export const emptyPlace = (): NearestPlace => ({
  distance: Infinity,
  triangle: -1,
  x: 0,
  y: 0,
  z: 0,
  weights: [1, 0, 0],
});

/**
 * Boxes within boxes round the triangles of a mesh: the nearest place to a point and the first hit of a ray, in steps
 * that grow with the logarithm of the mesh. The mesh may be open.
 */
export class TriangleTree {
  readonly mesh: TriangleMesh;
  // As `TriangleBoxes` has them.
  readonly #boxes: Float64Array;
  readonly #first: Int32Array;
  readonly #count: Uint32Array;
  readonly #order: Uint32Array;
  readonly #corners: Float64Array;
  readonly #stack = new Int32Array(2 * mostDepth + 2);
  /** Squared distance to the box of each node on the stack, or where a ray enters it. */
  readonly #distances = new Float64Array(2 * mostDepth + 2);
  /** Place of each triangle in the tree's order. */
  #places: Uint32Array | undefined;

  constructor(mesh: TriangleMesh) {
    this.mesh = mesh;
    const { boxes, first, count, order, corners } = triangleBoxes(mesh);
    this.#boxes = boxes;
    this.#first = first;
    this.#count = count;
    this.#order = order;
    this.#corners = corners;
  }

  /**
   * The nearest place to a point within `most` mm.
   * @param guess a triangle that is likely near, for example that of the last point: makes the search shorter
   */
  nearest(x: number, y: number, z: number, into: NearestPlace, most = Infinity, guess = -1): NearestPlace {
    into.triangle = -1;
    let best = most * most;
    if (this.#order.length === 0) {
      into.distance = Infinity;
      return into;
    }
    if (guess >= 0) {
      // A bound only; the triangle itself is met again on the way.
      const bound = this.#toTriangle(this.#placeOf(guess), x, y, z, 0, into);
      if (bound < best) best = bound * (1 + 1e-9) + 1e-12;
    }
    const boxes = this.#boxes;
    const stack = this.#stack;
    const distances = this.#distances;
    let depth = 0;
    let node = 0;
    for (;;) {
      const first = this.#first[node];
      if (first < 0) {
        const from = -1 - first;
        for (let i = from; i < from + this.#count[node]; i++) {
          const found = this.#toTriangle(i, x, y, z, best, into);
          if (found < best) best = found;
        }
      } else {
        const left = boxDistance(boxes, 6 * first, x, y, z);
        const right = boxDistance(boxes, 6 * first + 6, x, y, z);
        const leftNear = left <= right;
        const near = leftNear ? left : right;
        const far = leftNear ? right : left;
        if (near < best) {
          if (far < best) {
            distances[depth] = far;
            stack[depth++] = leftNear ? first + 1 : first;
          }
          node = leftNear ? first : first + 1;
          continue;
        }
      }
      do {
        if (depth === 0) {
          into.distance = into.triangle < 0 ? Infinity : Math.sqrt(best);
          return into;
        }
        node = stack[--depth];
      } while (distances[depth] >= best);
    }
  }

  #placeOf(triangle: number): number {
    if (!this.#places) {
      this.#places = new Uint32Array(this.#order.length);
      for (let i = 0; i < this.#order.length; i++) this.#places[this.#order[i]] = i;
    }
    return this.#places[triangle];
  }

  /** Squared distance to the i-th triangle in the tree's order; writes the place where it is less than `best`. */
  #toTriangle(i: number, x: number, y: number, z: number, best: number, into: NearestPlace): number {
    // Ericson 2005, Real-Time Collision Detection, 5.1.5: the region of the triangle that the point projects to.
    const p = this.#corners;
    const a = 9 * i;
    const abx = p[a + 3] - p[a];
    const aby = p[a + 4] - p[a + 1];
    const abz = p[a + 5] - p[a + 2];
    const acx = p[a + 6] - p[a];
    const acy = p[a + 7] - p[a + 1];
    const acz = p[a + 8] - p[a + 2];
    const apx = x - p[a];
    const apy = y - p[a + 1];
    const apz = z - p[a + 2];
    const d1 = abx * apx + aby * apy + abz * apz;
    const d2 = acx * apx + acy * apy + acz * apz;
    let v = 0;
    let w = 0;
    if (d1 > 0 || d2 > 0) {
      const ab2 = abx * abx + aby * aby + abz * abz;
      const ac2 = acx * acx + acy * acy + acz * acz;
      const abac = abx * acx + aby * acy + abz * acz;
      // d3, d4: the point seen from b; d5, d6: from c.
      const d3 = d1 - ab2;
      const d4 = d2 - abac;
      const d5 = d1 - abac;
      const d6 = d2 - ac2;
      if (d3 >= 0 && d4 <= d3) v = 1;
      else if (d6 >= 0 && d5 <= d6) w = 1;
      else {
        const vc = d1 * d4 - d3 * d2;
        const vb = d5 * d2 - d1 * d6;
        const va = d3 * d6 - d5 * d4;
        if (vc <= 0 && d1 >= 0 && d3 <= 0) v = d1 / (d1 - d3);
        else if (vb <= 0 && d2 >= 0 && d6 <= 0) w = d2 / (d2 - d6);
        else if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
          w = (d4 - d3) / (d4 - d3 + (d5 - d6));
          v = 1 - w;
        } else {
          const whole = 1 / (va + vb + vc);
          v = vb * whole;
          w = vc * whole;
        }
      }
    }
    const px = p[a] + v * abx + w * acx;
    const py = p[a + 1] + v * aby + w * acy;
    const pz = p[a + 2] + v * abz + w * acz;
    const d = (x - px) * (x - px) + (y - py) * (y - py) + (z - pz) * (z - pz);
    if (d < best) {
      into.triangle = this.#order[i];
      into.x = px;
      into.y = py;
      into.z = pz;
      into.weights[0] = 1 - v - w;
      into.weights[1] = v;
      into.weights[2] = w;
    }
    return d;
  }

  /**
   * Distance to the first triangle that a ray meets beyond `least` and up to `most`, from either side; −1 for none.
   * The direction is a unit vector.
   */
  firstHit(
    ox: number,
    oy: number,
    oz: number,
    dx: number,
    dy: number,
    dz: number,
    most = Infinity,
    least = 1e-6,
  ): number {
    return this.#cast(ox, oy, oz, dx, dy, dz, most, least, false);
  }

  /** Whether a ray meets any triangle between `least` and `most`: cheaper than the first hit. */
  meets(
    ox: number,
    oy: number,
    oz: number,
    dx: number,
    dy: number,
    dz: number,
    most = Infinity,
    least = 1e-6,
  ): boolean {
    return this.#cast(ox, oy, oz, dx, dy, dz, most, least, true) >= 0;
  }

  #cast(
    ox: number,
    oy: number,
    oz: number,
    dx: number,
    dy: number,
    dz: number,
    most: number,
    least: number,
    any: boolean,
  ): number {
    if (this.#order.length === 0) return -1;
    const boxes = this.#boxes;
    const stack = this.#stack;
    const distances = this.#distances;
    const ix = 1 / dx;
    const iy = 1 / dy;
    const iz = 1 / dz;
    let best = most;
    let found = -1;
    let depth = 0;
    const enter = rayMeetsBox(boxes, 0, ox, oy, oz, ix, iy, iz, best);
    if (enter === Infinity) return -1;
    distances[depth] = enter;
    stack[depth++] = 0;
    while (depth > 0) {
      const node = stack[--depth];
      if (distances[depth] > best) continue;
      const first = this.#first[node];
      if (first < 0) {
        const from = -1 - first;
        for (let i = from; i < from + this.#count[node]; i++) {
          const t = this.#meet(i, ox, oy, oz, dx, dy, dz);
          if (t < least || t > best) continue;
          if (any) return t;
          best = t;
          found = t;
        }
        continue;
      }
      const left = rayMeetsBox(boxes, 6 * first, ox, oy, oz, ix, iy, iz, best);
      const right = rayMeetsBox(boxes, 6 * first + 6, ox, oy, oz, ix, iy, iz, best);
      const leftNear = left <= right;
      const near = leftNear ? left : right;
      const far = leftNear ? right : left;
      if (far < Infinity) {
        distances[depth] = far;
        stack[depth++] = leftNear ? first + 1 : first;
      }
      if (near < Infinity) {
        distances[depth] = near;
        stack[depth++] = leftNear ? first : first + 1;
      }
    }
    return found;
  }

  /** Distance along the ray, or −1 (Möller & Trumbore 1997, *Fast, minimum storage ray/triangle intersection*). */
  #meet(i: number, ox: number, oy: number, oz: number, dx: number, dy: number, dz: number): number {
    const p = this.#corners;
    const a = 9 * i;
    const ux = p[a + 3] - p[a];
    const uy = p[a + 4] - p[a + 1];
    const uz = p[a + 5] - p[a + 2];
    const vx = p[a + 6] - p[a];
    const vy = p[a + 7] - p[a + 1];
    const vz = p[a + 8] - p[a + 2];
    const hx = dy * vz - dz * vy;
    const hy = dz * vx - dx * vz;
    const hz = dx * vy - dy * vx;
    const determinant = ux * hx + uy * hy + uz * hz;
    if (determinant === 0) return -1;
    const k = 1 / determinant;
    const sx = ox - p[a];
    const sy = oy - p[a + 1];
    const sz = oz - p[a + 2];
    const u = k * (sx * hx + sy * hy + sz * hz);
    if (!(u >= 0 && u <= 1)) return -1;
    const qx = sy * uz - sz * uy;
    const qy = sz * ux - sx * uz;
    const qz = sx * uy - sy * ux;
    const v = k * (dx * qx + dy * qy + dz * qz);
    if (!(v >= 0 && u + v <= 1)) return -1;
    return k * (vx * qx + vy * qy + vz * qz);
  }
}

function boxDistance(boxes: Float64Array, at: number, x: number, y: number, z: number): number {
  const dx = x < boxes[at] ? boxes[at] - x : x > boxes[at + 3] ? x - boxes[at + 3] : 0;
  const dy = y < boxes[at + 1] ? boxes[at + 1] - y : y > boxes[at + 4] ? y - boxes[at + 4] : 0;
  const dz = z < boxes[at + 2] ? boxes[at + 2] - z : z > boxes[at + 5] ? z - boxes[at + 5] : 0;
  return dx * dx + dy * dy + dz * dz;
}

/** Distance at which a ray enters a box, Infinity where it misses it or is farther than `most` (slab method, Kay & Kajiya 1986). */
function rayMeetsBox(
  boxes: Float64Array,
  at: number,
  ox: number,
  oy: number,
  oz: number,
  ix: number,
  iy: number,
  iz: number,
  most: number,
): number {
  // By the sign of its direction a ray enters by the lesser or the greater face.
  const x = ix < 0 ? 3 : 0;
  const y = iy < 0 ? 4 : 1;
  const z = iz < 0 ? 5 : 2;
  let near = 0;
  let far = most;
  // A ray within a face has no number here, and narrows nothing.
  const enterX = (boxes[at + x] - ox) * ix;
  const leaveX = (boxes[at + 3 - x] - ox) * ix;
  if (enterX > near) near = enterX;
  if (leaveX < far) far = leaveX;
  const enterY = (boxes[at + y] - oy) * iy;
  const leaveY = (boxes[at + 5 - y] - oy) * iy;
  if (enterY > near) near = enterY;
  if (leaveY < far) far = leaveY;
  const enterZ = (boxes[at + z] - oz) * iz;
  const leaveZ = (boxes[at + 7 - z] - oz) * iz;
  if (enterZ > near) near = enterZ;
  if (leaveZ < far) far = leaveZ;
  return near <= far ? near : Infinity;
}

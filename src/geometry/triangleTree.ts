import type { TriangleMesh } from "./mesh";

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

/** Triangles in one leaf. */
const leafSize = 4;
const mostDepth = 64;

/**
 * Boxes within boxes round the triangles of a mesh (Clark 1976, hierarchical geometric models; split at the middle of
 * the triangles' centres): the nearest place to a point and the first hit of a ray, in steps that grow with the
 * logarithm of the mesh. The mesh may be open.
 */
export class TriangleTree {
  readonly mesh: TriangleMesh;
  /** Six numbers a node: least x, y, z, most x, y, z. */
  readonly #boxes: Float64Array;
  /** First child (the second follows it), or −1 − first triangle of a leaf. */
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
    const { positions, triangles } = mesh;
    const count = triangles.length / 3;
    const order = new Uint32Array(count);
    for (let t = 0; t < count; t++) order[t] = t;
    const mostNodes = Math.max(1, 2 * count);
    this.#boxes = new Float64Array(6 * mostNodes);
    this.#first = new Int32Array(mostNodes);
    this.#count = new Uint32Array(mostNodes);
    this.#order = order;
    const nodes = this.#divide(count);
    this.#corners = new Float64Array(9 * count);
    for (let i = 0; i < count; i++) {
      for (let corner = 0; corner < 3; corner++) {
        const at = 3 * triangles[3 * order[i] + corner];
        const to = 9 * i + 3 * corner;
        this.#corners[to] = positions[at];
        this.#corners[to + 1] = positions[at + 1];
        this.#corners[to + 2] = positions[at + 2];
      }
    }
    this.#enclose(nodes);
  }

  /** Divides the triangles into nodes, each child after its parent; gives how many there are. */
  #divide(count: number): number {
    const order = this.#order;
    // In the tree's order too: what is read together lies together.
    const middles = middlesOf(this.mesh, count);
    const spread = new Float64Array(6);
    let nodes = 1;
    // Node, from, to and depth of each that waits.
    const waiting = new Int32Array(4 * (mostDepth + 2));
    waiting[2] = count;
    let top = 4;
    while (top > 0) {
      top -= 4;
      const node = waiting[top];
      const from = waiting[top + 1];
      const to = waiting[top + 2];
      const depth = waiting[top + 3];
      this.#first[node] = -1 - from;
      this.#count[node] = to - from;
      if (to - from <= leafSize || depth >= mostDepth - 1) continue;
      const axis = widestAxis(middles, from, to, spread);
      if (!(spread[3 + axis] - spread[axis] > 0)) continue;
      let middle = partition(order, middles, from, to, axis, (spread[axis] + spread[3 + axis]) / 2);
      if (middle === from || middle === to) middle = (from + to) >> 1;
      this.#first[node] = nodes;
      this.#count[node] = 0;
      for (let child = 0; child < 2; child++, top += 4) {
        waiting[top] = nodes++;
        waiting[top + 1] = child === 0 ? from : middle;
        waiting[top + 2] = child === 0 ? middle : to;
        waiting[top + 3] = depth + 1;
      }
    }
    return nodes;
  }

  /** Boxes from the leaves up: the last node first. */
  #enclose(nodes: number): void {
    const boxes = this.#boxes;
    const corners = this.#corners;
    for (let node = nodes - 1; node >= 0; node--) {
      const at = 6 * node;
      const first = this.#first[node];
      if (first >= 0) {
        const [left, right] = [6 * first, 6 * first + 6];
        for (let k = 0; k < 3; k++) {
          boxes[at + k] = Math.min(boxes[left + k], boxes[right + k]);
          boxes[at + 3 + k] = Math.max(boxes[left + 3 + k], boxes[right + 3 + k]);
        }
        continue;
      }
      let [leastX, leastY, leastZ] = [Infinity, Infinity, Infinity];
      let [mostX, mostY, mostZ] = [-Infinity, -Infinity, -Infinity];
      const end = 9 * (-1 - first + this.#count[node]);
      for (let corner = 9 * (-1 - first); corner < end; corner += 3) {
        const x = corners[corner];
        const y = corners[corner + 1];
        const z = corners[corner + 2];
        if (x < leastX) leastX = x;
        if (x > mostX) mostX = x;
        if (y < leastY) leastY = y;
        if (y > mostY) mostY = y;
        if (z < leastZ) leastZ = z;
        if (z > mostZ) mostZ = z;
      }
      boxes[at] = leastX;
      boxes[at + 1] = leastY;
      boxes[at + 2] = leastZ;
      boxes[at + 3] = mostX;
      boxes[at + 4] = mostY;
      boxes[at + 5] = mostZ;
    }
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

/** Twice the middle of the box round each triangle. */
function middlesOf({ positions, triangles }: TriangleMesh, count: number): Float64Array {
  const middles = new Float64Array(3 * count);
  for (let i = 0; i < 3 * count; i += 3) {
    const a = 3 * triangles[i];
    const b = 3 * triangles[i + 1];
    const c = 3 * triangles[i + 2];
    for (let axis = 0; axis < 3; axis++) {
      const p = positions[a + axis];
      const q = positions[b + axis];
      const r = positions[c + axis];
      middles[i + axis] = Math.min(p, q, r) + Math.max(p, q, r);
    }
  }
  return middles;
}

/** The axis along which points spread widest; writes least x, y, z and most x, y, z of those from `from` to `to`. */
function widestAxis(points: Float64Array, from: number, to: number, into: Float64Array): number {
  let [leastX, leastY, leastZ] = [Infinity, Infinity, Infinity];
  let [mostX, mostY, mostZ] = [-Infinity, -Infinity, -Infinity];
  for (let at = 3 * from; at < 3 * to; at += 3) {
    const x = points[at];
    const y = points[at + 1];
    const z = points[at + 2];
    if (x < leastX) leastX = x;
    if (x > mostX) mostX = x;
    if (y < leastY) leastY = y;
    if (y > mostY) mostY = y;
    if (z < leastZ) leastZ = z;
    if (z > mostZ) mostZ = z;
  }
  into[0] = leastX;
  into[1] = leastY;
  into[2] = leastZ;
  into[3] = mostX;
  into[4] = mostY;
  into[5] = mostZ;
  const [spreadX, spreadY, spreadZ] = [mostX - leastX, mostY - leastY, mostZ - leastZ];
  return spreadX >= spreadY && spreadX >= spreadZ ? 0 : spreadY >= spreadZ ? 1 : 2;
}

/** Puts those of a range that lie below `split` on an axis first; gives where the others begin. */
function partition(
  order: Uint32Array,
  points: Float64Array,
  from: number,
  to: number,
  axis: number,
  split: number,
): number {
  let middle = from;
  for (let i = from; i < to; i++) {
    if (!(points[3 * i + axis] < split)) continue;
    const own = order[i];
    order[i] = order[middle];
    order[middle] = own;
    for (let k = 0; k < 3; k++) {
      const coordinate = points[3 * i + k];
      points[3 * i + k] = points[3 * middle + k];
      points[3 * middle + k] = coordinate;
    }
    middle++;
  }
  return middle;
}

import { GrowingBox } from "./bounds";
import type { Vector } from "./vector";

/** Where a ray meets a surface first. */
export interface Hit {
  readonly distance: number;
  readonly triangle: number;
}

/** What lies beyond a plane, where normal · point > offset, is cut away. */
export interface Cut {
  readonly normal: Vector;
  readonly offset: number;
}

/** Triangles to a box: neighbours in a mesh lie near each other. */
const blockSize = 32;

/**
 * Finds the first triangle on a ray. Boxes round runs of triangles are enough: they cost a millisecond or two to make,
 * which a tree would exceed many times, and a ray takes less than one.
 */
export class RayIndex {
  readonly #positions: Float32Array;
  readonly #triangles: Uint32Array;
  #boxes: Float32Array | undefined;

  constructor(positions: Float32Array, triangles: Uint32Array) {
    this.#positions = positions;
    this.#triangles = triangles;
  }

  /**
   * The nearest hit beyond `from`, both sides of the surface counted; what is cut away is passed through.
   * @param direction a unit vector
   * @param most greatest distance, mm
   */
  first(origin: Vector, direction: Vector, cut?: Cut, most = Infinity): Hit | undefined {
    this.#boxes ??= boxesOf(this.#positions, this.#triangles);
    const boxes = this.#boxes;
    const count = this.#triangles.length / 3;
    let [distance, triangle] = [most, -1];
    for (let block = 0; block * blockSize < count; block++) {
      if (!meetsBox(boxes, 6 * block, origin, direction, distance)) continue;
      const end = Math.min(count, (block + 1) * blockSize);
      for (let t = block * blockSize; t < end; t++) {
        const found = this.#meet(t, origin, direction, distance);
        if (found < 0) continue;
        if (cut && isCutAway(origin, direction, found, cut)) continue;
        distance = found;
        triangle = t;
      }
    }
    return triangle < 0 ? undefined : { distance, triangle };
  }

  /** Distance along the ray, or −1 (Möller and Trumbore 1997, Fast, minimum storage ray/triangle intersection). */
  #meet(t: number, origin: Vector, direction: Vector, most: number): number {
    const p = this.#positions;
    const a = 3 * this.#triangles[3 * t];
    const b = 3 * this.#triangles[3 * t + 1];
    const c = 3 * this.#triangles[3 * t + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const hx = direction[1] * vz - direction[2] * vy;
    const hy = direction[2] * vx - direction[0] * vz;
    const hz = direction[0] * vy - direction[1] * vx;
    const scale = ux * hx + uy * hy + uz * hz;
    if (scale === 0) return -1;
    const sx = origin[0] - p[a];
    const sy = origin[1] - p[a + 1];
    const sz = origin[2] - p[a + 2];
    const u = (sx * hx + sy * hy + sz * hz) / scale;
    if (u < 0 || u > 1) return -1;
    const qx = sy * uz - sz * uy;
    const qy = sz * ux - sx * uz;
    const qz = sx * uy - sy * ux;
    const v = (direction[0] * qx + direction[1] * qy + direction[2] * qz) / scale;
    if (v < 0 || u + v > 1) return -1;
    const distance = (vx * qx + vy * qy + vz * qz) / scale;
    return distance > 0 && distance < most ? distance : -1;
  }
}

/** Least and greatest x, y, z of each run of triangles. */
function boxesOf(positions: Float32Array, triangles: Uint32Array): Float32Array {
  const corners = 3 * blockSize;
  const boxes = new Float32Array(6 * Math.ceil(triangles.length / corners));
  for (let block = 0; block < boxes.length / 6; block++) {
    const box = new GrowingBox();
    const end = Math.min(triangles.length, (block + 1) * corners);
    for (let i = block * corners; i < end; i++) box.add(positions, 3 * triangles[i]);
    boxes.set(box.sides, 6 * block);
  }
  return boxes;
}

function meetsBox(boxes: Float32Array, at: number, origin: Vector, direction: Vector, most: number): boolean {
  let [near, far] = [0, most];
  for (let axis = 0; axis < 3; axis++) {
    const low = boxes[at + axis] - origin[axis];
    const high = boxes[at + 3 + axis] - origin[axis];
    const d = direction[axis];
    if (d === 0) {
      if (low > 0 || high < 0) return false;
      continue;
    }
    near = Math.max(near, Math.min(low / d, high / d));
    far = Math.min(far, Math.max(low / d, high / d));
  }
  return near <= far;
}

function isCutAway(origin: Vector, direction: Vector, distance: number, { normal, offset }: Cut): boolean {
  let height = -offset;
  for (let axis = 0; axis < 3; axis++) height += normal[axis] * (origin[axis] + distance * direction[axis]);
  return height > 0;
}

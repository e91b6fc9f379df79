import type { TriangleMesh } from "../geometry/mesh";

/**
 * Turns loose corners (nine 32-bit floats a triangle) into a mesh: corners whose three values are the same to the
 * last bit become one vertex, in the order of their first use; −0 counts as 0. Nothing is moved or dropped.
 */
export function weld(corners: Float32Array): TriangleMesh {
  const count = corners.length / 3;
  const values = new Float32Array(corners.length);
  for (let i = 0; i < corners.length; i++) values[i] = corners[i] + 0;
  const bits = new Uint32Array(values.buffer);
  const capacity = powerOfTwoOver(2 * count);
  const mask = capacity - 1;
  const slots = new Int32Array(capacity).fill(-1);
  const triangles = new Uint32Array(count);
  // The vertices are gathered at the front of `values`: a vertex never moves past the corner it came from.
  let vertices = 0;
  for (let corner = 0; corner < count; corner++) {
    const x = bits[3 * corner];
    const y = bits[3 * corner + 1];
    const z = bits[3 * corner + 2];
    let slot = mix(x, y, z) & mask;
    let vertex = slots[slot];
    while (
      vertex >= 0 &&
      (bits[3 * vertex] !== x || bits[3 * vertex + 1] !== y || bits[3 * vertex + 2] !== z)
    ) {
      slot = (slot + 1) & mask;
      vertex = slots[slot];
    }
    if (vertex < 0) {
      vertex = vertices++;
      slots[slot] = vertex;
      bits[3 * vertex] = x;
      bits[3 * vertex + 1] = y;
      bits[3 * vertex + 2] = z;
    }
    triangles[corner] = vertex;
  }
  return { positions: values.slice(0, 3 * vertices), triangles };
}

/** The least power of two above `n`. */
export function powerOfTwoOver(n: number): number {
  let power = 16;
  while (power <= n) power *= 2;
  return power;
}

/** A well-spread 32-bit hash of three words: the finaliser of MurmurHash3 (Appleby, public domain) over each. */
export function mix(a: number, b: number, c: number): number {
  let h = Math.imul(a, 0xcc9e2d51) ^ Math.imul(b, 0x1b873593) ^ Math.imul(c, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13) ^ Math.imul(b, 0x27d4eb2f), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

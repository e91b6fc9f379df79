import type { TriangleMesh } from "./mesh";

/** What stands for each triangle of a mesh: its corners, bit by bit, in whatever order. */
export function triangleKeys({ positions, triangles }: TriangleMesh): Set<number> {
  const bits = bitsOf(positions);
  const keys = new Set<number>();
  for (let t = 0; t < triangles.length / 3; t++) keys.add(keyOf(bits, triangles, t));
  return keys;
}

/** Triangles of a mesh that another does not have, by the keys of that one. */
export function otherTriangles(
  { positions, triangles }: TriangleMesh,
  keysOfOther: ReadonlySet<number>,
): number[] {
  const bits = bitsOf(positions);
  const others: number[] = [];
  for (let t = 0; t < triangles.length / 3; t++) {
    if (!keysOfOther.has(keyOf(bits, triangles, t))) others.push(t);
  }
  return others;
}

const bitsOf = (positions: Float32Array): Uint32Array =>
  new Uint32Array(positions.buffer, positions.byteOffset, positions.length);

/**
 * Stands for the three corners of a triangle, in whatever order: two sums of mixed bits, 52 of them. That two triangles
 * of two meshes of a million share one by chance is less likely than one in four thousand.
 */
function keyOf(bits: Uint32Array, triangles: Uint32Array, t: number): number {
  let low = 0;
  let high = 0;
  for (let corner = 0; corner < 3; corner++) {
    const at = 3 * triangles[3 * t + corner];
    low += mixed(bits[at], bits[at + 1], bits[at + 2], 0x9e3779b1);
    high += mixed(bits[at + 1], bits[at + 2], bits[at], 0x85ebca77);
  }
  return (low >>> 0) + (high & 0xfffff) * 2 ** 32;
}

/** The finishing steps of MurmurHash3 (Appleby, public domain) over three words. */
function mixed(x: number, y: number, z: number, seed: number): number {
  let hash = seed;
  for (const word of [x, y, z]) {
    hash = Math.imul(hash ^ word, 0x85ebca6b);
    hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
    hash ^= hash >>> 16;
  }
  return hash >>> 0;
}

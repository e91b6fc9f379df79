/** Vertices of which no two have the same place. */
export interface WeldedVertices {
  /** x, y, z of each in turn. */
  readonly positions: Float32Array;
  /** For each vertex given, the one that it became. */
  readonly vertexOf: Uint32Array;
}

/**
 * Makes vertices whose three coordinates are the same to the last bit one, in the order of their first use; −0 counts
 * as 0. Nothing is moved. The positions given are written over: the result stands at their front.
 */
export function weldVertices(positions: Float32Array): WeldedVertices {
  const count = positions.length / 3;
  // Adding zero turns −0 into 0.
  for (let i = 0; i < positions.length; i++) positions[i] += 0;
  const bits = new Uint32Array(positions.buffer, positions.byteOffset, positions.length);
  const capacity = powerOfTwoOver(2 * count);
  const mask = capacity - 1;
  const slots = new Int32Array(capacity).fill(-1);
  const vertexOf = new Uint32Array(count);
  let vertices = 0;
  for (let i = 0; i < count; i++) {
    const x = bits[3 * i];
    const y = bits[3 * i + 1];
    const z = bits[3 * i + 2];
    let slot = hashOf(x, y, z) & mask;
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
    vertexOf[i] = vertex;
  }
  return { positions: positions.slice(0, 3 * vertices), vertexOf };
}

/** The least power of two above `n`, 16 at least. */
export function powerOfTwoOver(n: number): number {
  let power = 16;
  while (power <= n) power *= 2;
  return power;
}

/** A well-spread 32-bit hash of three words (finaliser of MurmurHash3, Appleby, public domain). */
export function hashOf(a: number, b: number, c: number): number {
  let h = Math.imul(a, 0xcc9e2d51) ^ Math.imul(b, 0x1b873593) ^ Math.imul(c, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13) ^ Math.imul(b, 0x27d4eb2f), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

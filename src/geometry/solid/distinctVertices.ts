/**
 * Moves vertices that would be one and the same in 32-bit numbers apart by the least step there is, in place, so
 * that a file of bare triangles (STL) is closed however its reader welds it. Returns how many were moved.
 *
 * The kernel's result is closed by index; two of its vertices may still coincide after rounding, and a reader that
 * welds by position then sees an edge with four triangles.
 */
export function separateCoincidentVertices(positions: Float32Array): number {
  const count = positions.length / 3;
  const bits = new Int32Array(positions.buffer, positions.byteOffset, positions.length);
  // -0 and 0 are the same place but not the same bits.
  for (let i = 0; i < positions.length; i++) if (positions[i] === 0) positions[i] = 0;
  let size = 16;
  while (size < 2 * count) size *= 2;
  const slots = new Int32Array(size).fill(-1);
  const mask = size - 1;
  let moved = 0;
  for (let vertex = 0; vertex < count; vertex++) {
    const at = 3 * vertex;
    for (let tries = 0; ; tries++) {
      let slot = hash(bits[at], bits[at + 1], bits[at + 2]) & mask;
      while (slots[slot] >= 0 && !same(bits, 3 * slots[slot], at)) slot = (slot + 1) & mask;
      if (slots[slot] < 0) {
        slots[slot] = vertex;
        if (tries > 0) moved++;
        break;
      }
      step(positions, bits, at + (tries % 3));
    }
  }
  return moved;
}

const hash = (x: number, y: number, z: number): number => {
  const h = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca6b) ^ Math.imul(z, 0xc2b2ae35);
  return h ^ (h >>> 15);
};

const same = (bits: Int32Array, a: number, b: number): boolean =>
  bits[a] === bits[b] && bits[a + 1] === bits[b + 1] && bits[a + 2] === bits[b + 2];

/** The next 32-bit number away from zero; from zero the least step that a mm scale can feel. */
function step(positions: Float32Array, bits: Int32Array, at: number): void {
  if (Math.abs(positions[at]) < 1e-6) positions[at] = positions[at] < 0 ? -1e-6 : 1e-6;
  bits[at]++;
}

/** Fewer than this are sorted by comparing. */
const few = 256;
const digitBits = 11;
const digits = 1 << digitBits;

/**
 * Indices of values from the least on, those that are alike in their own order (radix sort from the lowest digit on,
 * Knuth 1998, *The Art of Computer Programming* 3, 5.2.5, on the bits of the numbers); no value may be NaN.
 */
export function sortedOrder(values: ArrayLike<number>): Uint32Array {
  const count = values.length;
  let order = new Uint32Array(count);
  for (let i = 0; i < count; i++) order[i] = i;
  if (count < few) return order.sort((a, b) => values[a] - values[b]);
  const halves = orderedBits(values);
  let next = new Uint32Array(count);
  const ends = new Uint32Array(digits + 1);
  for (const half of halves) {
    for (let shift = 0; shift < 32; shift += digitBits) {
      ends.fill(0);
      for (let i = 0; i < count; i++) ends[((half[i] >>> shift) & (digits - 1)) + 1]++;
      // Digits that all have are those of numbers with fewer bits.
      if (ends[((half[0] >>> shift) & (digits - 1)) + 1] === count) continue;
      for (let digit = 1; digit <= digits; digit++) ends[digit] += ends[digit - 1];
      for (let k = 0; k < count; k++) next[ends[(half[order[k]] >>> shift) & (digits - 1)]++] = order[k];
      [order, next] = [next, order];
    }
  }
  return order;
}

/** The low and the high half of numbers' bits, turned so that they sort as the numbers do. */
function orderedBits(values: ArrayLike<number>): [low: Uint32Array, high: Uint32Array] {
  const count = values.length;
  const low = new Uint32Array(count);
  const high = new Uint32Array(count);
  const number = new Float64Array(1);
  const bits = new Uint32Array(number.buffer);
  for (let i = 0; i < count; i++) {
    // Zero has one sign.
    number[0] = values[i] + 0;
    const isNegative = bits[1] >>> 31 === 1;
    low[i] = isNegative ? ~bits[0] : bits[0];
    high[i] = isNegative ? ~bits[1] : bits[1] | 0x80000000;
  }
  return [low, high];
}

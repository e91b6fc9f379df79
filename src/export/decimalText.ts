const powers = Float64Array.from({ length: 10 }, (_, digits) => 10 ** digits);
const zero = 0x30;
const point = 0x2e;
const minus = 0x2d;

/** Decimal text that grows byte by byte. */
export class DecimalText {
  #bytes: Uint8Array;
  #length = 0;

  /** @param capacity bytes that it likely takes */
  constructor(capacity = 1024) {
    this.#bytes = new Uint8Array(Math.max(64, capacity));
  }

  /** What was written so far. */
  bytes(): Uint8Array {
    return this.#bytes.subarray(0, this.#length);
  }

  /** ASCII text. */
  ascii(text: string): void {
    this.#makeRoom(text.length);
    for (let i = 0; i < text.length; i++) this.#bytes[this.#length++] = text.charCodeAt(i);
  }

  /** A whole number from 0 to 2³² − 1. */
  whole(value: number): void {
    this.#makeRoom(10);
    this.#digits(value, digitsOf(value));
  }

  /**
   * A 32-bit float as the decimal of fewest places that rounds back to it; −0 as 0. Tiny and huge values have an
   * exponent.
   */
  float(value: number): void {
    this.#makeRoom(24);
    const size = Math.abs(value);
    if (size === 0) {
      this.#bytes[this.#length++] = zero;
      return;
    }
    // From 2⁻⁶ on the next float lies 1.9 · 10⁻⁹ off, so that nine places do; below 10⁶ the scaled number fits 2⁵³.
    if (size < 1 / 64 || size >= 1e6) {
      this.ascii(shortestExponential(value));
      return;
    }
    let places = 0;
    let scaled = Math.round(size);
    // A whole number of at most 16 digits by a power of ten is the double nearest to that decimal.
    while (Math.fround(scaled / powers[places]) !== size && places < 9)
      scaled = Math.round(size * powers[++places]);
    if (value < 0) this.#bytes[this.#length++] = minus;
    const units = Math.floor(scaled / powers[places]);
    this.#digits(units, digitsOf(units));
    if (places > 0) {
      this.#bytes[this.#length++] = point;
      this.#digits(scaled - units * powers[places], places);
    }
  }

  #digits(value: number, count: number): void {
    let rest = value;
    for (let at = this.#length + count - 1; at >= this.#length; at--) {
      const shorter = Math.floor(rest / 10);
      this.#bytes[at] = zero + (rest - 10 * shorter);
      rest = shorter;
    }
    this.#length += count;
  }

  #makeRoom(count: number): void {
    if (this.#length + count <= this.#bytes.length) return;
    const larger = new Uint8Array(2 * (this.#length + count));
    larger.set(this.#bytes.subarray(0, this.#length));
    this.#bytes = larger;
  }
}

function digitsOf(value: number): number {
  let digits = 1;
  while (digits < 10 && value >= powers[digits]) digits++;
  return digits;
}

function shortestExponential(value: number): string {
  for (let places = 0; places < 8; places++) {
    const text = value.toExponential(places);
    if (Math.fround(Number(text)) === value) return text;
  }
  // Nine significant digits tell all 32-bit floats apart (IEEE 754-2019, 5.12.2).
  return value.toExponential(8);
}

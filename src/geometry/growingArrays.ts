/** 32-bit floats that come one after another, their number not known before. */
export class GrowingFloats {
  #values = new Float32Array(4096);
  length = 0;

  push(x: number, y: number, z: number): void {
    if (this.length + 3 > this.#values.length) {
      const larger = new Float32Array(2 * this.#values.length);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.length++] = x;
    this.#values[this.length++] = y;
    this.#values[this.length++] = z;
  }

  at(i: number): number {
    return this.#values[i];
  }

  finish(): Float32Array {
    return this.#values.slice(0, this.length);
  }
}

/** Whole numbers that come one after another, their number not known before. */
export class GrowingIndices {
  #values = new Uint32Array(4096);
  length = 0;

  push(a: number, b: number, c: number): void {
    if (this.length + 3 > this.#values.length) {
      const larger = new Uint32Array(2 * this.#values.length);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.length++] = a;
    this.#values[this.length++] = b;
    this.#values[this.length++] = c;
  }

  finish(): Uint32Array {
    return this.#values.slice(0, this.length);
  }
}

/** More numbers than this are not kept: an editor's process should not hold them for one large piece. */
export const mostKept = 1 << 20;

/**
 * Room for a hot function that is called many times, each time for much the same size: taken anew it would cost more than
 * what is done in it. What stands in it is left from the last call.
 */
export class Scratch<T extends Float64Array | Float32Array | Int32Array> {
  readonly #make: new (
    length: number,
  ) => T;
  #room: T;

  constructor(make: new (length: number) => T) {
    this.#make = make;
    this.#room = new make(0);
  }

  /** At least so many numbers. */
  take(length: number): T {
    if (length > mostKept) return new this.#make(length);
    if (this.#room.length < length) this.#room = new this.#make(Math.ceil(1.25 * length));
    return this.#room;
  }
}

/** Keeps what was made for the latest few keys, so that a few that are tried in turn are made once. */
export class LatestKept<T> {
  readonly #most: number;
  readonly #known = new Map<string, T>();

  constructor(most: number) {
    this.#most = most;
  }

  /** What is kept for a key, else what `make` gives; it is the latest then. */
  get(key: string, make: () => T): T {
    const value = this.#known.get(key) ?? make();
    this.#known.delete(key);
    this.#known.set(key, value);
    for (const old of this.#known.keys()) {
      if (this.#known.size <= this.#most) break;
      this.#known.delete(old);
    }
    return value;
  }
}

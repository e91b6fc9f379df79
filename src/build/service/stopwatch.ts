/** Sums the time that is spent in each stage of a build, ms. */
export class Stopwatch {
  readonly times: Record<string, number> = {};
  #stage: string | undefined;
  #since = 0;

  /** The stage that ran ends, another begins; nothing where it is the same. */
  enter(stage: string): void {
    if (stage === this.#stage) return;
    this.end();
    this.#stage = stage;
    this.#since = performance.now();
  }

  end(): void {
    if (this.#stage === undefined) return;
    const spent = performance.now() - this.#since;
    this.times[this.#stage] = (this.times[this.#stage] ?? 0) + spent;
    this.#stage = undefined;
  }
}

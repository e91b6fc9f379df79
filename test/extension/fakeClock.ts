import type { Clock } from "../../src/extension/builds/clock";

/** A clock that goes only when it is told to. */
export class FakeClock implements Clock {
  #time = 0;
  #calls: { at: number; then: () => void }[] = [];

  now(): number {
    return this.#time;
  }

  after(milliseconds: number, then: () => void): () => void {
    const call = { at: this.#time + milliseconds, then };
    this.#calls.push(call);
    return () => {
      this.#calls = this.#calls.filter((each) => each !== call);
    };
  }

  /** Lets time pass, calling back in order, with room for promises after each call. */
  async pass(milliseconds: number): Promise<void> {
    const end = this.#time + milliseconds;
    await settled();
    for (;;) {
      const next = this.#calls.filter(({ at }) => at <= end).sort((a, b) => a.at - b.at)[0];
      if (!next) break;
      this.#calls = this.#calls.filter((each) => each !== next);
      this.#time = Math.max(this.#time, next.at);
      next.then();
      await settled();
    }
    this.#time = end;
    await settled();
  }
}

/** Lets all promises that can settle do so. */
export const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

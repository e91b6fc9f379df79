import type { Clock } from "./clock";

/** Passes calls on, each key at most once in an interval: the first at once, the last of the others when it is over. */
export class Throttle<Key> {
  readonly #pass: (key: Key) => void;
  readonly #clock: Clock;
  readonly #interval: number;
  readonly #resting = new Map<Key, { callOff: () => void; isAsked: boolean }>();

  /** @param interval ms */
  constructor(pass: (key: Key) => void, clock: Clock, interval: number) {
    this.#pass = pass;
    this.#clock = clock;
    this.#interval = interval;
  }

  call(key: Key): void {
    const resting = this.#resting.get(key);
    if (resting) {
      resting.isAsked = true;
      return;
    }
    this.#pass(key);
    this.#rest(key);
  }

  dispose(): void {
    for (const { callOff } of this.#resting.values()) callOff();
    this.#resting.clear();
  }

  #rest(key: Key): void {
    const callOff = this.#clock.after(this.#interval, () => {
      const isAsked = this.#resting.get(key)?.isAsked;
      this.#resting.delete(key);
      if (isAsked) this.call(key);
    });
    this.#resting.set(key, { callOff, isAsked: false });
  }
}

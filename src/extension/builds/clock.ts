/** Time as the builds see it, so that tests need not wait. */
export interface Clock {
  /** ms, from any beginning. */
  now(): number;
  /** Calls back after some ms; the result calls it off. */
  after(milliseconds: number, then: () => void): () => void;
}

export const realClock: Clock = {
  now: () => performance.now(),
  after(milliseconds, then) {
    const timer = setTimeout(then, milliseconds);
    return () => clearTimeout(timer);
  },
};

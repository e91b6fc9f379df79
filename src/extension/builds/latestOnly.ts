import type { Clock } from "./clock";

/**
 * When the running job gives way to a newer one: `now` for a change that makes it worthless; `afterPicture` for one
 * of a quick row, such as a control that is dragged: were each to cancel the one before, no picture would ever come.
 */
export type Haste = "now" | "afterPicture";

/**
 * Runs at most one job at a time. Of those that are asked for meanwhile only the last is kept, so that a hundred quick
 * saves make a handful of builds.
 */
export class LatestOnly<Job> {
  readonly #run: (job: Job, signal: AbortSignal) => Promise<void>;
  readonly #clock: Clock;
  readonly #spacing: number;
  #running: { readonly abort: AbortController; hasPicture: boolean } | undefined;
  #waiting: { readonly job: Job } | undefined;
  #callOff: (() => void) | undefined;
  #lastStart = Number.NEGATIVE_INFINITY;
  #idle: (() => void)[] = [];

  /**
   * @param run must settle soon after its signal is aborted, and never reject
   * @param spacing least time from one start to the next, ms
   */
  constructor(run: (job: Job, signal: AbortSignal) => Promise<void>, clock: Clock, spacing: number) {
    this.#run = run;
    this.#clock = clock;
    this.#spacing = spacing;
  }

  /** A job runs or waits. */
  get isBusy(): boolean {
    return this.#running !== undefined || this.#waiting !== undefined;
  }

  /** A job waits for the running one to end. */
  get isWaiting(): boolean {
    return this.#waiting !== undefined;
  }

  /** Asks for a job; resolves when it, or the last of those that replaced it, has ended. */
  request(job: Job, haste: Haste = "now"): Promise<void> {
    this.#waiting = { job };
    const running = this.#running;
    if (running && (haste === "now" || running.hasPicture)) running.abort.abort();
    this.#startWaiting();
    return new Promise((resolve) => {
      this.#idle.push(resolve);
    });
  }

  /** The running job has shown what the person waits for most: one that waits may take its place. */
  pictureShown(): void {
    if (!this.#running) return;
    this.#running.hasPicture = true;
    if (this.#waiting) this.#running.abort.abort();
  }

  /** Stops the running job, and forgets one that waits. */
  cancel(): void {
    this.#waiting = undefined;
    this.#callOff?.();
    this.#callOff = undefined;
    if (this.#running) this.#running.abort.abort();
    else this.#tellIdle();
  }

  #startWaiting(): void {
    if (this.#running || !this.#waiting || this.#callOff) return;
    const wait = this.#lastStart + this.#spacing - this.#clock.now();
    if (wait > 0) {
      this.#callOff = this.#clock.after(wait, () => {
        this.#callOff = undefined;
        this.#startWaiting();
      });
      return;
    }
    const { job } = this.#waiting;
    this.#waiting = undefined;
    const running = { abort: new AbortController(), hasPicture: false };
    this.#running = running;
    this.#lastStart = this.#clock.now();
    void this.#run(job, running.abort.signal).finally(() => {
      this.#running = undefined;
      if (this.#waiting) this.#startWaiting();
      else this.#tellIdle();
    });
  }

  #tellIdle(): void {
    const told = this.#idle;
    this.#idle = [];
    for (const tell of told) tell();
  }
}

import type { Clock } from "./clock";

/**
 * When the running job gives way to a newer one: `now` for a change that makes it worthless; `afterPicture` for one
 * of a quick row, such as a control that is dragged: were each to cancel the one before, no picture would ever come.
 */
export type Haste = "now" | "afterPicture";

interface Running {
  readonly abort: AbortController;
  hasPicture: boolean;
}

/**
 * Runs at most one job at a time. Of those that are asked for meanwhile only the last is kept, so that a hundred quick
 * saves make a handful of builds.
 */
export class LatestOnly<Job> {
  readonly #run: (job: Job, signal: AbortSignal) => Promise<void>;
  readonly #clock: Clock;
  readonly #leastSpacing: number;
  /** Jobs in a row that were stopped before they had shown anything. */
  #stopped = 0;
  #running: Running | undefined;
  #waiting: { readonly job: Job } | undefined;
  #callOff: (() => void) | undefined;
  #lastStart = Number.NEGATIVE_INFINITY;
  #idle: (() => void)[] = [];

  /**
   * @param run must settle soon after its signal is aborted, and never reject
   * @param spacing least time from one start to the next, ms; doubled with every job of a row that is stopped before
   * it has shown anything, from the second on, up to eight times as long
   */
  constructor(run: (job: Job, signal: AbortSignal) => Promise<void>, clock: Clock, spacing: number) {
    this.#run = run;
    this.#clock = clock;
    this.#leastSpacing = spacing;
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
    if (running && (haste === "now" || running.hasPicture)) this.#giveWay(running);
    this.#startWaiting();
    return new Promise((resolve) => {
      this.#idle.push(resolve);
    });
  }

  /** The running job has shown what the person waits for most: one that waits may take its place. */
  pictureShown(): void {
    if (!this.#running) return;
    this.#running.hasPicture = true;
    this.#stopped = 0;
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

  /** In a row of changes that come faster than anything can be shown, fewer and fewer jobs are begun. */
  #giveWay({ abort, hasPicture }: Running): void {
    if (!hasPicture && !abort.signal.aborted) this.#stopped++;
    abort.abort();
  }

  get #spacing(): number {
    return this.#leastSpacing * Math.min(8, 2 ** Math.max(0, this.#stopped - 1));
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
    const running: Running = { abort: new AbortController(), hasPicture: false };
    this.#running = running;
    this.#lastStart = this.#clock.now();
    void this.#run(job, running.abort.signal).finally(() => {
      if (!running.abort.signal.aborted) this.#stopped = 0;
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

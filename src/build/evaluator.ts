import { DesignChild } from "./designChild";
import { defaultMemoryLimitMB, type Evaluation, type EvaluationRequest, runInChild } from "./evaluation";

export interface EvaluatorOptions {
  /** The bundled `evaluatorProcess` script. */
  readonly entry: string;
  /** Memory limit that the waiting process is started for, MB. */
  readonly memoryLimitMB?: number;
  /** Start the next process after each evaluation; false for a caller that runs one design and ends. */
  readonly keepSpare?: boolean;
  /**
   * Run the next design in the same process where the last one left no trace in it: code that ran before runs many
   * times faster. For pictures; what is written to files comes from a process that ran nothing before (`isFresh`).
   */
  readonly reuse?: boolean;
}

/** Time that a cancelled evaluation has to come to its end, so that its process need not be started anew, ms. */
const windDown = 250;

/**
 * Runs compiled designs in processes of their own, with one waiting so that an evaluation need not wait for a start.
 * A process is ended after its design, unless `reuse` says otherwise. Whatever a design does, the promise settles and
 * says what happened.
 */
export class Evaluator {
  readonly #entry: string;
  readonly #memoryLimitMB: number;
  readonly #children = new Set<DesignChild>();
  /** Those in which a design ran already. */
  readonly #used = new WeakSet<DesignChild>();
  readonly #stop = new AbortController();
  readonly #keepSpare: boolean;
  readonly #reuse: boolean;
  #spare: DesignChild | undefined;
  /** The last cancelled evaluation, while it may still come to its end. */
  #windingDown: Promise<void> | undefined;

  constructor({
    entry,
    memoryLimitMB = defaultMemoryLimitMB,
    keepSpare = true,
    reuse = false,
  }: EvaluatorOptions) {
    this.#keepSpare = keepSpare;
    this.#reuse = reuse;
    this.#entry = entry;
    this.#memoryLimitMB = memoryLimitMB;
  }

  /** Starts the waiting process ahead of the first evaluation. */
  async warm(): Promise<void> {
    if (this.#stop.signal.aborted) return;
    if (!this.#spare || this.#spare.end) this.#spare = this.#fork(this.#memoryLimitMB);
    await this.#spare.ready;
  }

  /** Process ids of all children that live now. */
  get processIds(): number[] {
    return [...this.#children].flatMap(({ pid }) => pid ?? []);
  }

  /**
   * Runs a design: the file, then `provideInput`, then `make`. Rejects only when cancelled, when disposed of,
   * or with what `provideInput` throws besides `MessageError`.
   */
  async evaluate(request: EvaluationRequest): Promise<Evaluation> {
    const memoryLimitMB = request.memoryLimitMB ?? this.#memoryLimitMB;
    const signals = [this.#stop.signal, ...(request.signal ? [request.signal] : [])];
    const signal = AbortSignal.any(signals);
    signal.throwIfAborted();
    if (this.#windingDown) await this.#windingDown;
    signal.throwIfAborted();
    const child = this.#take(memoryLimitMB, request.isFresh ?? false);
    child.work();
    let isClean: boolean | undefined;
    const run = runInChild(child, {
      ...request,
      memoryLimitMB,
      signal,
      ended: (clean) => {
        isClean = clean;
      },
    });
    try {
      return await run.evaluation;
    } finally {
      const mayStay = this.#reuse && !request.isFresh;
      const isCancelled = isClean === undefined && signal.aborted && !this.#stop.signal.aborted;
      if (isCancelled && mayStay) {
        this.#windingDown = run.wound(windDown).then((clean) => this.#leave(child, clean));
      } else {
        this.#leave(child, mayStay && isClean === true);
      }
    }
  }

  /** Keeps a process for the next design, or ends it and starts another. */
  #leave(child: DesignChild, isClean: boolean): void {
    child.rest();
    child.events = {};
    const isFree = !this.#spare || this.#spare.end !== undefined;
    if (isClean && isFree && !child.end && !this.#stop.signal.aborted) {
      this.#spare = child;
      this.#used.add(child);
      return;
    }
    void child.kill();
    // Starting a process holds this one up for some milliseconds: the caller gets its result first.
    if (this.#keepSpare) setTimeout(() => void this.warm(), 0).unref();
  }

  /** Ends all processes and cancels what runs; resolves when none is left. */
  async dispose(): Promise<void> {
    this.#stop.abort(new DOMException("the evaluator was disposed of", "AbortError"));
    this.#spare = undefined;
    const children = [...this.#children];
    for (const child of children) child.work();
    await Promise.all(children.map((child) => child.kill()));
  }

  #take(memoryLimitMB: number, isFresh: boolean): DesignChild {
    const spare = this.#spare;
    if (isFresh && spare && this.#used.has(spare)) return this.#fork(memoryLimitMB);
    this.#spare = undefined;
    if (spare && !spare.end) {
      if (spare.memoryLimitMB === memoryLimitMB) return spare;
      void spare.kill();
    }
    return this.#fork(memoryLimitMB);
  }

  #fork(memoryLimitMB: number): DesignChild {
    const child = new DesignChild(this.#entry, memoryLimitMB);
    this.#children.add(child);
    void child.ended.then(() => this.#children.delete(child));
    return child;
  }
}

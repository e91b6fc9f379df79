import { availableParallelism } from "node:os";
import { setTimeout as pause } from "node:timers/promises";
import type { Part } from "../../design/part";
import { packMesh } from "../../geometry/packedMesh";
import type { Swept } from "../bodies";
import type { Build, Designed, Engine } from "../engine";
import { buildRequestOf } from "./buildRequest";
import { designFacts, PartFactsMaker } from "./facts";
import type { Measured, ToMeasure } from "./measuring";
import type { ToPlan } from "./planning";
import type {
  BuildEvent,
  BuildOutcome,
  DraftPartArrays,
  MeasureEvent,
  PlanEvent,
  PlanOutcome,
  ServiceRequest,
} from "./protocol";
import { Stopwatch } from "./stopwatch";
import type { CalledThread } from "./threadCalls";

/**
 * The draft goes out before the long work begins. On two cores that work would keep the editor from drawing it: there it
 * waits until the draft stands on the screen as a rule, and is hardly later done for it. ms
 */
const draftHeadStart = availableParallelism() > 2 ? 0 : 60;

/** A plan that is not wanted any more has so long to see it, before its thread is ended, ms. */
const endingGrace = 5;

export type PlanThread = CalledThread<ToPlan, PlanOutcome, PlanEvent>;
export type MeasureThread = CalledThread<ToMeasure, Measured, MeasureEvent>;

/** What is kept of one design between its builds, and the order among them. */
export class Session {
  readonly #engine: Engine;
  readonly #measure: MeasureThread;
  readonly #plan: PlanThread;
  readonly #facts = new PartFactsMaker();
  /** Keys of the parts whose meshes the editor has. */
  #sent: ReadonlySet<string> = new Set();
  #sentHead: string | undefined;
  #superseded = new AbortController();
  #last: Promise<unknown> = Promise.resolve();
  #isMeasuring = false;
  #isPlanning = false;
  /** The last good piece, to be planned. */
  #toPlan: Omit<ToPlan, "cancelled"> | undefined;

  constructor(engine: Engine, measure: MeasureThread, plan: PlanThread) {
    this.#engine = engine;
    this.#measure = measure;
    this.#plan = plan;
  }

  /**
   * Builds, and tells what it finds as it goes. A newer build of this design cancels this one.
   * @param resend tell meshes and head also where the editor has them
   */
  build(
    request: ServiceRequest,
    cancelled: AbortSignal,
    tell: (event: BuildEvent) => void,
    resend: boolean,
  ): Promise<BuildOutcome> {
    this.#superseded.abort();
    this.#superseded = new AbortController();
    const signal = AbortSignal.any([cancelled, this.#superseded.signal]);
    const tellWanted = (event: BuildEvent) => {
      if (!signal.aborted) tell(event);
    };
    return this.alone(() => this.#build(request, signal, tellWanted, resend));
  }

  /**
   * Plans how the last good piece is printed, and tells what it finds as it goes. A newer build of this design cancels
   * it: the thread looks between two steps whether it is still wanted, and is ended where a step takes too long.
   */
  async plan(cancelled: AbortSignal, tell: (event: PlanEvent) => void): Promise<PlanOutcome> {
    const signal = AbortSignal.any([cancelled, this.#superseded.signal]);
    signal.throwIfAborted();
    const piece = this.#toPlan;
    if (!piece) return { messages: [] };
    // One that was told to stop and has not yet would be waited for.
    if (this.#isPlanning) await this.#plan.end();
    signal.throwIfAborted();
    this.#isPlanning = true;
    const flag = new Int32Array(new SharedArrayBuffer(4));
    const planning = this.#plan.call({ ...piece, cancelled: flag }, (event) => {
      if (!signal.aborted) tell(event);
    });
    let ending: NodeJS.Timeout | undefined;
    const stop = () => {
      Atomics.store(flag, 0, 1);
      ending = setTimeout(() => void this.#plan.end(), endingGrace);
    };
    signal.addEventListener("abort", stop, { once: true });
    const done = planning.finally(() => {
      clearTimeout(ending);
      signal.removeEventListener("abort", stop);
      this.#isPlanning = false;
    });
    return await unlessAborted(done, signal);
  }

  /** Runs work after what is being done for this design now. */
  alone<T>(work: () => Promise<T>): Promise<T> {
    const result = this.#last.then(work);
    this.#last = result.catch(() => {});
    return result;
  }

  /** Stops what is being done, and ends the thread. */
  async end(): Promise<void> {
    this.#superseded.abort();
    await Promise.all([this.#measure.end(), this.#plan.end()]);
    await this.#last;
  }

  async #build(
    request: ServiceRequest,
    signal: AbortSignal,
    tell: (event: BuildEvent) => void,
    resend: boolean,
  ): Promise<BuildOutcome> {
    signal.throwIfAborted();
    const watch = new Stopwatch();
    if (resend) {
      this.#sent = new Set();
      this.#sentHead = undefined;
    }
    let designed: Designed | undefined;
    const build = await this.#engine.build({
      ...buildRequestOf(request),
      signal,
      incremental: true,
      progress: (stage, share) => {
        watch.enter(stage);
        tell({ kind: "progress", stage, ...(share !== undefined && { share }) });
      },
      onDesigned: (now) => {
        watch.enter("settling");
        designed = now;
      },
      onSwept: async (swept, parts) => {
        watch.enter("telling the draft");
        if (designed && !signal.aborted) this.#tellDraft(designed, swept, parts, tell);
        watch.enter("leaving the draft the processor");
        await pause(draftHeadStart);
      },
    });
    signal.throwIfAborted();
    if (build.solid) tell({ kind: "solid", packed: packMesh(build.solid.mesh) });
    watch.enter("measuring");
    const measured = build.ok ? await this.#measured(request.design, build, signal, tell) : undefined;
    watch.end();
    const { result, parties, solid } = build;
    this.#toPlan =
      measured?.report && result && parties && solid
        ? { design: request.design, result, parties, solid, messages: build.messages }
        : undefined;
    const messages = [...build.messages, ...(measured?.messages ?? [])];
    return {
      ok: build.ok && measured?.report !== undefined,
      messages,
      inputs: build.inputs,
      ...(measured?.report && { report: measured.report }),
      times: watch.times,
      memoryMB: Math.round(process.memoryUsage.rss() / 2 ** 20),
    };
  }

  #tellDraft(
    designed: Designed,
    swept: readonly Swept[],
    parts: readonly Part[],
    tell: (event: BuildEvent) => void,
  ): void {
    if (designed.head.key !== this.#sentHead) {
      this.#sentHead = designed.head.key;
      tell({ kind: "head", key: designed.head.key, mesh: designed.head.form.mesh() });
    }
    const draft = swept.map(
      ({ key }, part): DraftPartArrays => ({
        part,
        key,
        ...(!this.#sent.has(key) && { mesh: this.#engine.surfaceOf(swept[part]) }),
      }),
    );
    this.#sent = new Set(swept.map(({ key }) => key));
    tell({ kind: "draft", head: designed.head.key, parts: draft });
    tell({ kind: "facts", facts: designFacts(designed, this.#facts.summariesOf(parts, swept)) });
  }

  /** Measures in a thread: what is not wanted any more goes on there until the next piece needs it. */
  async #measured(
    design: string,
    { result, parties, solid, messages }: Build,
    signal: AbortSignal,
    tell: (event: BuildEvent) => void,
  ): Promise<Measured> {
    if (this.#isMeasuring) await this.#measure.end();
    this.#isMeasuring = true;
    const measuring = this.#measure.call(
      { design, result: result!, parties: parties!, solid: solid!, messages },
      tell,
    );
    const done = measuring.finally(() => {
      this.#isMeasuring = false;
    });
    return await unlessAborted(done, signal);
  }
}

/** The promise's outcome, or the signal's reason as soon as it is aborted. */
function unlessAborted<T>(promise: Promise<T>, signal: AbortSignal): Promise<T> {
  return new Promise((resolve, reject) => {
    const abort = () => reject(signal.reason);
    signal.addEventListener("abort", abort, { once: true });
    promise.then(resolve, reject).finally(() => signal.removeEventListener("abort", abort));
    if (signal.aborted) abort();
  });
}

import type { DesignHeader, DesignResult } from "../design/part";
import { type Message, MessageError, type Place } from "../message";
import type { CompiledDesign } from "./compile";
import { type ChildEnd, DesignChild } from "./designChild";
import type { DesignInput, FromDesign, LimitReport } from "./evaluatorProtocol";
import { SourcePlaces, withFrames } from "./sourcePlaces";

export const defaultTimeLimitSeconds = 10;
export const defaultMemoryLimitMB = 1024;

export interface EvaluatorOptions {
  /** The bundled `evaluatorProcess` script. */
  readonly entry: string;
  /** Memory limit that the waiting process is started for, MB. */
  readonly memoryLimitMB?: number;
  /** Start the next process after each evaluation; false for a caller that runs one design and ends. */
  readonly keepSpare?: boolean;
}

export interface EvaluationRequest extends CompiledDesign {
  /**
   * Answers the design's header with the head and the parameter values to make it with. Its time does not
   * count against the design's. A `MessageError` from it becomes the evaluation's messages.
   */
  readonly provideInput: (header: DesignHeader) => DesignInput | Promise<DesignInput>;
  /** Seconds for the design's own code; 10 unless given. */
  readonly timeLimitSeconds?: number;
  /** Memory of the design's whole process, MB; 1024 unless given. */
  readonly memoryLimitMB?: number;
  /** Ends the evaluation: the process is killed and the promise rejected with the signal's reason. */
  readonly signal?: AbortSignal;
}

export interface Evaluation {
  /** Present as soon as the file itself ran, even when `make` failed. */
  readonly header?: DesignHeader;
  /** Present when no message is an error. */
  readonly result?: DesignResult;
  readonly messages: readonly Message[];
}

/**
 * Runs compiled designs, each in a process of its own that is ended afterwards, with one more waiting so that
 * an evaluation need not wait for a start. Whatever a design does, the promise settles and says what happened.
 */
export class Evaluator {
  readonly #entry: string;
  readonly #memoryLimitMB: number;
  readonly #children = new Set<DesignChild>();
  readonly #stop = new AbortController();
  readonly #keepSpare: boolean;
  #spare: DesignChild | undefined;

  constructor({ entry, memoryLimitMB = defaultMemoryLimitMB, keepSpare = true }: EvaluatorOptions) {
    this.#keepSpare = keepSpare;
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
    const child = this.#take(memoryLimitMB);
    child.work();
    try {
      return await runOne(child, { ...request, memoryLimitMB, signal });
    } finally {
      child.rest();
      void child.kill();
      // Starting a process holds this one up for some milliseconds: the caller gets its result first.
      if (this.#keepSpare) setTimeout(() => void this.warm(), 0).unref();
    }
  }

  /** Ends all processes and cancels what runs; resolves when none is left. */
  async dispose(): Promise<void> {
    this.#stop.abort(new DOMException("the evaluator was disposed of", "AbortError"));
    this.#spare = undefined;
    const children = [...this.#children];
    for (const child of children) child.work();
    await Promise.all(children.map((child) => child.kill()));
  }

  #take(memoryLimitMB: number): DesignChild {
    const spare = this.#spare;
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

type Run = EvaluationRequest & { readonly memoryLimitMB: number; readonly signal: AbortSignal };

/** The watchdog in the process speaks first; this much later the engine ends a process that is stuck. */
const graceSeconds = 1.8;

async function runOne(child: DesignChild, run: Run): Promise<Evaluation> {
  const { file, code, sourceMap, defaultExport, memoryLimitMB, signal, provideInput } = run;
  const timeLimitSeconds = run.timeLimitSeconds ?? defaultTimeLimitSeconds;
  const limits = { timeLimitSeconds, memoryLimitMB };
  const fallback: Place = defaultExport ?? { file, line: 1, column: 1 };
  await child.ready;
  signal.throwIfAborted();
  return new Promise((resolve, reject) => {
    let header: DesignHeader | undefined;
    let timer: NodeJS.Timeout | undefined;
    let isDone = false;
    const settle = (outcome: Omit<Evaluation, "header">) => {
      finish();
      resolve({ ...(header && { header }), ...outcome });
    };
    const fail = (error: unknown) => {
      finish();
      reject(error);
    };
    const cancelled = () => fail(signal.reason);
    const finish = () => {
      isDone = true;
      clearTimeout(timer);
      signal.removeEventListener("abort", cancelled);
      child.events = {};
    };
    const limitPassed = (report: LimitReport) =>
      settle({ messages: [limitMessage(report, limits, new SourcePlaces(sourceMap), fallback)] });
    const wait = () => {
      clearTimeout(timer);
      const late = () => limitPassed({ limit: "time", frames: [] });
      timer = setTimeout(late, (timeLimitSeconds + graceSeconds) * 1000);
    };
    const answer = async (told: DesignHeader) => {
      header = told;
      clearTimeout(timer);
      const input = await provideInput(told);
      if (isDone) return;
      wait();
      child.send({ kind: "make", input });
    };
    const receive = (message: FromDesign) => {
      if (message.kind === "header") {
        answer(message.header).catch((error: unknown) => {
          if (error instanceof MessageError) settle({ messages: error.messages });
          else fail(error);
        });
      } else if (message.kind === "result") {
        settle({ result: message.result, messages: message.notes });
      } else if (message.kind === "failed") {
        settle({ messages: [...message.messages, ...message.notes] });
      }
    };
    const ended = (end: ChildEnd) =>
      settle({ messages: [endMessage(end, child.complaint, limits, header?.origin ?? fallback)] });
    signal.addEventListener("abort", cancelled, { once: true });
    child.events = { onMessage: receive, onLimit: limitPassed, onEnd: ended };
    if (child.end) {
      ended(child.end);
      return;
    }
    wait();
    child.send({ kind: "load", file, code, sourceMap, ...(defaultExport && { defaultExport }), ...limits });
  });
}

interface Limits {
  readonly timeLimitSeconds: number;
  readonly memoryLimitMB: number;
}

function limitMessage(
  { limit, frames }: LimitReport,
  limits: Limits,
  places: SourcePlaces,
  fallback: Place,
): Message {
  const message: Message =
    limit === "time"
      ? {
          id: "time-limit",
          severity: "error",
          text: `the design ran for more than ${limits.timeLimitSeconds} s`,
          suggestion: "look for a loop that does not end, or allow it more time",
        }
      : memoryMessage(limits);
  const placed = withFrames(message, places.frames(frames));
  if (placed.line !== undefined) return placed;
  const text = "where it was is not known: it did not come back from one long call";
  return { ...placed, ...fallback, notes: [{ text }] };
}

function memoryMessage({ memoryLimitMB }: Limits): Message {
  return {
    id: "memory-limit",
    severity: "error",
    text: `the design used more than ${memoryLimitMB} MB of memory`,
    suggestion: "look for a list that grows without end, or allow it more memory",
  };
}

function endMessage({ code, signal }: ChildEnd, complaint: string, limits: Limits, place: Place): Message {
  if (/out of memory|allocation failed/i.test(complaint)) return { ...memoryMessage(limits), ...place };
  const how = signal ? `by signal ${signal}` : code === null ? "before it began" : `with code ${code}`;
  const said = complaint.trim().split("\n").at(-1);
  return {
    id: "design-process-ended",
    severity: "error",
    text: `the process that ran the design ended unexpectedly, ${how}`,
    suggestion: "build again; when it ends again, leave out parts until it does not",
    ...(said && { notes: [{ text: said }] }),
    ...place,
  };
}

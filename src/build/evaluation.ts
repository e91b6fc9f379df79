import type { DesignHeader, DesignResult } from "../design/part";
import { type Message, MessageError, type Place } from "../message";
import type { CompiledDesign } from "./compile";
import type { ChildEnd, DesignChild } from "./designChild";
import type { DesignInput, FromDesign, LimitReport } from "./evaluatorProtocol";
import { SourcePlaces, withFrames } from "./sourcePlaces";

export const defaultTimeLimitSeconds = 10;
export const defaultMemoryLimitMB = 1024;

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
  /** Ends the evaluation: the promise is rejected with the signal's reason, and the process ended. */
  readonly signal?: AbortSignal;
  /** In a process that ran nothing before. */
  readonly isFresh?: boolean;
}

export interface Evaluation {
  /** Present as soon as the file itself ran, even when `make` failed. */
  readonly header?: DesignHeader;
  /** Present when no message is an error. */
  readonly result?: DesignResult;
  readonly messages: readonly Message[];
}

export interface Run extends EvaluationRequest {
  readonly memoryLimitMB: number;
  readonly signal: AbortSignal;
  /** Told with the end of the design whether its process may run another. */
  readonly ended: (isClean: boolean) => void;
}

/** The watchdog in the process speaks first; this much later the engine ends a process that is stuck. */
const graceSeconds = 1.8;

export interface Running {
  readonly evaluation: Promise<Evaluation>;
  /** After a cancellation: whether the process came to its end, and clean, within some milliseconds. */
  wound(milliseconds: number): Promise<boolean>;
}

/** Runs a design in a process that waits for one. */
export function runInChild(child: DesignChild, run: Run): Running {
  const { file, code, sourceMap, defaultExport, memoryLimitMB, signal, provideInput } = run;
  const timeLimitSeconds = run.timeLimitSeconds ?? defaultTimeLimitSeconds;
  const limits = { timeLimitSeconds, memoryLimitMB };
  const fallback: Place = defaultExport ?? { file, line: 1, column: 1 };
  let isWaiting = false;
  const begin = async (): Promise<Evaluation> => {
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
        isWaiting = true;
        const input = await provideInput(told);
        if (isDone) return;
        isWaiting = false;
        wait();
        child.send({ kind: "make", input });
      };
      const receive = (message: FromDesign) => {
        if (message.kind === "header") {
          answer(message.header).catch((error: unknown) => {
            // The design waits for an answer that does not come: nothing runs in its process.
            run.ended(true);
            if (error instanceof MessageError) settle({ messages: error.messages });
            else fail(error);
          });
        } else if (message.kind === "result") {
          run.ended(message.isClean);
          settle({ result: message.result, messages: message.notes });
        } else if (message.kind === "failed") {
          run.ended(message.isClean);
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
      const design = { file, code, sourceMap, ...(defaultExport && { defaultExport }) };
      child.send({ kind: "load", ...design, ...limits });
    });
  };
  return { evaluation: begin(), wound: (milliseconds) => wound(child, isWaiting, milliseconds) };
}

function wound(child: DesignChild, isWaiting: boolean, milliseconds: number): Promise<boolean> {
  // Between the header and its answer nothing runs.
  if (isWaiting) return Promise.resolve(true);
  return new Promise((resolve) => {
    const settle = (isClean: boolean) => {
      clearTimeout(timer);
      child.events = {};
      resolve(isClean);
    };
    const timer = setTimeout(settle, milliseconds, false);
    child.events = {
      onMessage: (message) => {
        if (message.kind === "header") settle(true);
        else if (message.kind !== "ready") settle(message.isClean);
      },
      onLimit: () => settle(false),
      onEnd: () => settle(false),
    };
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

import { isMainThread, parentPort, Worker, workerData } from "node:worker_threads";

/** Work that a thread does when asked, one piece after the other. */
export type ThreadWork = (argument: never, tell: (event: unknown) => void) => unknown;

interface Call {
  readonly id: number;
  readonly argument: unknown;
}
type Answer =
  | { readonly id: number; readonly event: unknown }
  | { readonly id: number; readonly value: unknown }
  | { readonly id: number; readonly error: unknown };

/** The role that this thread was started for; undefined in the main thread. */
export const threadRole: string | undefined = isMainThread
  ? undefined
  : (workerData as { role?: string } | undefined)?.role;

/** Serves calls in a thread until its end. */
export function serveThread(work: ThreadWork): void {
  const port = parentPort!;
  let last: Promise<unknown> = Promise.resolve();
  const serve = async ({ id, argument }: Call) => {
    try {
      const value = await work(argument as never, (event) =>
        port.postMessage({ id, event } satisfies Answer),
      );
      port.postMessage({ id, value } satisfies Answer);
    } catch (error) {
      port.postMessage({ id, error } satisfies Answer);
    }
  };
  port.on("message", (call: Call) => {
    last = last.then(() => serve(call));
  });
}

interface Waiting {
  readonly resolve: (value: never) => void;
  readonly reject: (error: unknown) => void;
  readonly onEvent?: ((event: never) => void) | undefined;
}

/** A thread that is asked to do work; started at first need, and again after it was ended. */
export class CalledThread<Argument, Value, Event = never> {
  readonly #script: string;
  readonly #role: string;
  readonly #waiting = new Map<number, Waiting>();
  #worker: Worker | undefined;
  #calls = 0;

  constructor(script: string, role: string) {
    this.#script = script;
    this.#role = role;
  }

  /** Starts the thread ahead of the first call. */
  warm(): void {
    this.#worker ??= this.#start();
  }

  call(argument: Argument, onEvent?: (event: Event) => void): Promise<Value> {
    this.#worker ??= this.#start();
    const id = this.#calls++;
    const worker = this.#worker;
    return new Promise<Value>((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject, onEvent });
      worker.postMessage({ id, argument } satisfies Call);
    });
  }

  /** Ends the thread, whatever it does; what waits for it is rejected. The next call starts another. */
  async end(reason: unknown = new DOMException("the thread was ended", "AbortError")): Promise<void> {
    const worker = this.#worker;
    this.#worker = undefined;
    this.#rejectAll(reason);
    await worker?.terminate();
  }

  #start(): Worker {
    const worker = new Worker(this.#script, { workerData: { role: this.#role } });
    worker.unref();
    worker.on("message", (answer: Answer) => {
      const waiting = this.#waiting.get(answer.id);
      if ("event" in answer) {
        waiting?.onEvent?.(answer.event as never);
        return;
      }
      this.#waiting.delete(answer.id);
      if ("error" in answer) waiting?.reject(answer.error);
      else waiting?.resolve(answer.value as never);
    });
    worker.on("error", (error) => {
      if (this.#worker !== worker) return;
      this.#worker = undefined;
      this.#rejectAll(error);
    });
    return worker;
  }

  #rejectAll(reason: unknown): void {
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject } of waiting) reject(reason);
  }
}

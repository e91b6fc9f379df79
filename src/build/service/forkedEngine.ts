import { EngineChild } from "./engineChild";
import {
  type EngineClient,
  type EngineClientOptions,
  EngineLostError,
  type EngineReplaced,
} from "./engineContract";
import type {
  BuildEvent,
  BuildOutcome,
  ExportOutcome,
  ExportRequest,
  FromService,
  PlanEvent,
  PlanOutcome,
  ServiceRequest,
  ToService,
} from "./protocol";

/** One request that waits for its answer. */
interface Waiting {
  /** What is sent, and sent once more to the next process when this one ends. */
  readonly message: ToService;
  readonly onEvent?: ((event: BuildEvent | PlanEvent) => void) | undefined;
  readonly resolve: (answer: FromService) => void;
  readonly reject: (error: unknown) => void;
  attempts: number;
}

const secondsBetweenPings = 5;
const mostAttempts = 2;

/** The engine in a forked process; see `EngineClient`. */
export class ForkedEngine implements EngineClient {
  readonly #options: Required<EngineClientOptions>;
  readonly #waiting = new Map<number, Waiting>();
  readonly #listeners = new Set<(how: EngineReplaced) => void>();
  #child: EngineChild | undefined;
  #ids = 0;
  #heardAt = 0;
  #pinging: NodeJS.Timeout | undefined;
  #isDisposed = false;
  /** Designs whose meshes the running process believes to have been told. */
  #told = new Set<string>();

  constructor({ script, hangSeconds = 60, recycleMB = 1500 }: EngineClientOptions) {
    this.#options = { script, hangSeconds, recycleMB };
  }

  get processId(): number | undefined {
    return this.#child?.pid;
  }

  async warm(): Promise<void> {
    await this.#running().ready;
  }

  async build(
    request: ServiceRequest,
    onEvent: (event: BuildEvent) => void,
    options: { readonly signal?: AbortSignal; readonly resend?: boolean } = {},
  ): Promise<BuildOutcome> {
    options.signal?.throwIfAborted();
    // A process that was started anew knows nothing of what the editor has.
    this.#running();
    const resend = (options.resend ?? false) || !this.#told.has(request.design);
    this.#told.add(request.design);
    this.#supersede(request.design);
    const id = this.#ids++;
    const hear = onEvent as (event: BuildEvent | PlanEvent) => void;
    const answer = await this.#ask({ kind: "build", id, request, resend }, options.signal, hear);
    if (answer.kind !== "built") throw new Error(`the engine answered a build with "${answer.kind}"`);
    if (answer.outcome.memoryMB > this.#options.recycleMB && this.#waiting.size === 0) this.#recycle();
    return answer.outcome;
  }

  async plan(
    design: string,
    onEvent: (event: PlanEvent) => void,
    signal?: AbortSignal,
  ): Promise<PlanOutcome> {
    const message = { kind: "plan", id: this.#ids++, design } as const;
    const answer = await this.#ask(message, signal, onEvent as (event: BuildEvent | PlanEvent) => void);
    if (answer.kind !== "planned") throw new Error(`the engine answered a plan with "${answer.kind}"`);
    return answer.outcome;
  }

  async export(request: ExportRequest, signal?: AbortSignal): Promise<ExportOutcome> {
    const answer = await this.#ask({ kind: "export", id: this.#ids++, request }, signal);
    if (answer.kind !== "exported") throw new Error(`the engine answered an export with "${answer.kind}"`);
    return answer.outcome;
  }

  async sheet(request: ServiceRequest, signal?: AbortSignal): Promise<string | undefined> {
    const answer = await this.#ask({ kind: "sheet", id: this.#ids++, request }, signal);
    return answer.kind === "sheet" ? answer.svg : undefined;
  }

  prepare(design: string, texts: Readonly<Record<string, string>>): void {
    this.#child?.send({ kind: "prepare", design, texts });
  }

  forget(design: string): void {
    this.#told.delete(design);
    this.#child?.send({ kind: "forget", design });
  }

  async restart(): Promise<void> {
    await this.#replace("asked");
  }

  onReplaced(listener: (how: EngineReplaced) => void): { dispose(): void } {
    this.#listeners.add(listener);
    return { dispose: () => this.#listeners.delete(listener) };
  }

  async dispose(): Promise<void> {
    this.#isDisposed = true;
    this.#rejectAll(new DOMException("the engine was ended", "AbortError"));
    const child = this.#child;
    this.#child = undefined;
    clearInterval(this.#pinging);
    await child?.kill();
  }

  /** What the engine still says of an older build of the design, or of its plan, is not heard any more: it may already be on its way. */
  #supersede(design: string): void {
    for (const [id, { message, reject }] of this.#waiting) {
      const of =
        message.kind === "build"
          ? message.request.design
          : message.kind === "plan"
            ? message.design
            : undefined;
      if (of !== design) continue;
      this.#waiting.delete(id);
      reject(superseded());
    }
  }

  #ask(
    message: Extract<ToService, { id: number }>,
    signal?: AbortSignal,
    onEvent?: (event: BuildEvent | PlanEvent) => void,
  ): Promise<FromService> {
    signal?.throwIfAborted();
    if (this.#isDisposed) throw new DOMException("the engine was ended", "AbortError");
    const { id } = message;
    return new Promise((resolve, reject) => {
      const cancel = () => {
        this.#waiting.delete(id);
        this.#child?.send({ kind: "cancel", id });
        reject(signal?.reason);
      };
      signal?.addEventListener("abort", cancel, { once: true });
      const done = () => signal?.removeEventListener("abort", cancel);
      this.#waiting.set(id, {
        message,
        onEvent,
        attempts: 1,
        resolve: (answer) => {
          done();
          resolve(answer);
        },
        reject: (error) => {
          done();
          reject(error);
        },
      });
      this.#running().send(message);
    });
  }

  #running(): EngineChild {
    if (this.#child) return this.#child;
    const child: EngineChild = new EngineChild(this.#options.script, {
      onMessage: (message) => this.#receive(message),
      onEnd: (complaint) => {
        if (this.#child === child) this.#ended("ended", complaint);
      },
    });
    this.#child = child;
    this.#heardAt = performance.now();
    this.#told = new Set();
    this.#pinging ??= setInterval(() => this.#lookAfter(), secondsBetweenPings * 1000).unref();
    return child;
  }

  #receive(message: FromService): void {
    this.#heardAt = performance.now();
    if (message.kind === "ready" || message.kind === "pong") return;
    const waiting = this.#waiting.get(message.id);
    if (!waiting) return;
    if (message.kind === "event") {
      waiting.onEvent?.(message.event);
      return;
    }
    this.#waiting.delete(message.id);
    if (message.kind === "fault") waiting.reject(new Error(message.text));
    else if (message.kind === "cancelled") waiting.reject(superseded());
    else waiting.resolve(message);
  }

  /** Asks a process that works whether it lives; replaces it when it has not answered for long. */
  #lookAfter(): void {
    if (!this.#child || this.#waiting.size === 0) {
      this.#heardAt = performance.now();
      return;
    }
    if (performance.now() - this.#heardAt > this.#options.hangSeconds * 1000) void this.#replace("hung");
    else this.#child.send({ kind: "ping", id: -1 });
  }

  async #replace(reason: EngineReplaced["reason"]): Promise<void> {
    const child = this.#child;
    if (!child) return;
    this.#child = undefined;
    await child.kill();
    this.#ended(reason, "");
  }

  /** An idle process that has grown is exchanged without a word. */
  #recycle(): void {
    const child = this.#child;
    this.#child = undefined;
    void child?.kill();
    void this.warm();
  }

  /** What waited for the process that is gone is asked of the next one, once. */
  #ended(reason: EngineReplaced["reason"], complaint: string): void {
    this.#child = undefined;
    for (const listener of this.#listeners) listener({ reason, complaint });
    for (const [id, waiting] of [...this.#waiting]) {
      if (++waiting.attempts > mostAttempts) {
        this.#waiting.delete(id);
        waiting.reject(new EngineLostError(complaint));
        continue;
      }
      const { message } = waiting;
      const again = message.kind === "build" ? { ...message, resend: true } : message;
      this.#running().send(again);
      if (message.kind === "build") this.#told.add(message.request.design);
    }
  }

  #rejectAll(error: unknown): void {
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject } of waiting) reject(error);
  }
}

const superseded = () => new DOMException("a newer build of this design was asked for", "AbortError");

import { type ChildProcess, fork } from "node:child_process";
import type { Readable } from "node:stream";
import { engineEnvironment } from "./engineEnvironment";
import { type FromDesign, type LimitReport, reportDescriptor, type ToDesign } from "./evaluatorProtocol";

/** Room above the memory limit, so that the watchdog tells the line before the JavaScript engine gives up. */
const heapHeadroomMB = 1024;
const complaintKept = 4_000;

export interface ChildEnd {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
}

export interface ChildEvents {
  onMessage?(message: FromDesign): void;
  onLimit?(report: LimitReport): void;
  onEnd?(end: ChildEnd): void;
}

/**
 * One process that can run one design. It never keeps the engine's own process alive while it waits, and ends
 * by itself when the engine does.
 */
export class DesignChild {
  readonly memoryLimitMB: number;
  /** Resolves when the process can take a design, or has ended. */
  readonly ready: Promise<void>;
  /** Resolves when the process is gone. */
  readonly ended: Promise<void>;
  events: ChildEvents = {};
  readonly #process: ChildProcess;
  #end: ChildEnd | undefined;
  #complaint = "";

  constructor(script: string, memoryLimitMB: number) {
    this.memoryLimitMB = memoryLimitMB;
    this.#process = fork(script, [], {
      serialization: "advanced",
      execArgv: [`--max-old-space-size=${Math.round(memoryLimitMB + heapHeadroomMB)}`, "--no-warnings"],
      env: childEnvironment(),
      stdio: ["ignore", "ignore", "pipe", "ipc", "pipe"],
    });
    const { promise: ready, resolve: isReady } = deferred();
    const { promise: ended, resolve: hasEnded } = deferred();
    this.ready = ready;
    this.ended = ended;
    this.#process.on("message", (message: FromDesign) => {
      if (message.kind === "ready") isReady();
      else this.events.onMessage?.(message);
    });
    const end = (how: ChildEnd) => {
      if (this.#end) return;
      this.#end = how;
      isReady();
      hasEnded();
      this.events.onEnd?.(how);
    };
    // Not "exit": by "close" all that it wrote on its error output has arrived too.
    this.#process.on("close", (code, signal) => end({ code, signal }));
    this.#process.on("error", (error) => {
      this.#complaint += error.message;
      end({ code: null, signal: null });
    });
    this.#listen();
    this.rest();
  }

  get pid(): number | undefined {
    return this.#process.pid;
  }

  /** How the process ended, once it has. */
  get end(): ChildEnd | undefined {
    return this.#end;
  }

  /** The last that the process wrote on its error output. */
  get complaint(): string {
    return this.#complaint;
  }

  send(order: ToDesign): void {
    // A process that has ended says so by its own event.
    if (this.#process.connected) this.#process.send(order, () => {});
  }

  /** Ends the process at once. Safe to call again. */
  kill(): Promise<void> {
    this.events = {};
    if (!this.#end) this.#process.kill("SIGKILL");
    return this.ended;
  }

  /** Keeps the engine's process alive while a design runs. */
  work(): void {
    this.#process.ref();
    this.#process.channel?.ref();
  }

  /** Lets the engine's process end while this one only waits. */
  rest(): void {
    this.#process.unref();
    this.#process.channel?.unref();
    for (const stream of this.#process.stdio) (stream as { unref?(): void } | null)?.unref?.();
  }

  #listen(): void {
    this.#process.stderr!.setEncoding("utf8").on("data", (text: string) => {
      this.#complaint = (this.#complaint + text).slice(-complaintKept);
    });
    let text = "";
    const reports = this.#process.stdio[reportDescriptor] as Readable;
    reports.setEncoding("utf8").on("data", (more: string) => {
      text += more;
      const line = text.indexOf("\n");
      if (line < 0) return;
      this.events.onLimit?.(JSON.parse(text.slice(0, line)) as LimitReport);
      text = text.slice(line + 1);
    });
    for (const stream of [this.#process.stderr!, reports]) stream.on("error", () => {});
  }
}

/** The same language and time zone everywhere, so that a design cannot differ by machine. */
function childEnvironment(): NodeJS.ProcessEnv {
  return { ...engineEnvironment(), TZ: "UTC", LC_ALL: "en_US.UTF-8" };
}

function deferred(): { promise: Promise<void>; resolve: () => void } {
  let resolve = () => {};
  const promise = new Promise<void>((done) => {
    resolve = done;
  });
  return { promise, resolve };
}

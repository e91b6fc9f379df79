import { type ChildProcess, fork } from "node:child_process";
import { engineEnvironment } from "../engineEnvironment";
import type { FromService, ToService } from "./protocol";

const complaintKept = 4_000;

export interface EngineChildEvents {
  onMessage(message: FromService): void;
  /** The process is gone, with the last that it said on its error output. */
  onEnd(complaint: string): void;
}

/** One process of the engine. It ends by itself when the editor's does. */
export class EngineChild {
  /** Resolves when it can be asked, or has ended. */
  readonly ready: Promise<void>;
  readonly ended: Promise<void>;
  readonly #process: ChildProcess;
  #complaint = "";
  #hasEnded = false;

  constructor(script: string, events: EngineChildEvents) {
    this.#process = fork(script, [], {
      serialization: "advanced",
      execArgv: ["--no-warnings", "--max-semi-space-size=64"],
      env: engineEnvironment(),
      stdio: ["ignore", "ignore", "pipe", "ipc"],
    });
    let isReady = () => {};
    this.ready = new Promise((resolve) => {
      isReady = resolve;
    });
    let ended = () => {};
    this.ended = new Promise((resolve) => {
      ended = resolve;
    });
    const end = () => {
      if (this.#hasEnded) return;
      this.#hasEnded = true;
      isReady();
      ended();
      events.onEnd(this.#complaint.trim());
    };
    this.#process.on("message", (message: FromService) => {
      if (message.kind === "ready") isReady();
      else events.onMessage(message);
    });
    this.#process.stderr?.setEncoding("utf8").on("data", (text: string) => {
      this.#complaint = (this.#complaint + text).slice(-complaintKept);
    });
    this.#process.on("exit", () => setTimeout(end, 20));
    this.#process.on("error", (error) => {
      this.#complaint += error.message;
      end();
    });
  }

  get pid(): number | undefined {
    return this.#hasEnded ? undefined : this.#process.pid;
  }

  get hasEnded(): boolean {
    return this.#hasEnded;
  }

  send(message: ToService): void {
    // A process that has ended says so by its own event.
    if (this.#process.connected) this.#process.send(message, () => {});
  }

  /** Ends the process at once, and with it those of designs. */
  kill(): Promise<void> {
    if (!this.#hasEnded) this.#process.kill("SIGKILL");
    return this.ended;
  }
}

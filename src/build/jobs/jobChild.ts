import { type ChildProcess, fork } from "node:child_process";
import { engineEnvironment } from "../engineEnvironment";
import type { FromJobProcess, ToJobProcess } from "./jobProtocol";
import { jobProcessWord } from "./serveJobs";

const complaintKept = 4_000;

/** How a job came to its end: done, gone wrong, or its process ended under it. */
export type JobEnd<Result> =
  | { readonly kind: "done"; readonly result: Result; readonly memoryMB: number }
  | { readonly kind: "fault" | "ended"; readonly text: string };

/** One process that does jobs, one at a time. It ends by itself when the process that made it does. */
export class JobChild<Job, Result, News> {
  /** Resolves when the process is gone. */
  readonly ended: Promise<void>;
  readonly #process: ChildProcess;
  #complaint = "";
  #hasEnded = false;
  #id = 0;
  #onNews: ((news: News) => void) | undefined;
  #settle: ((end: JobEnd<Result>) => void) | undefined;

  constructor(script: string) {
    this.#process = fork(script, [jobProcessWord], {
      serialization: "advanced",
      execArgv: ["--no-warnings", "--max-semi-space-size=64"],
      env: engineEnvironment(),
      stdio: ["ignore", "ignore", "pipe", "ipc"],
    });
    this.#process.stderr?.setEncoding("utf8").on("data", (text: string) => {
      this.#complaint = (this.#complaint + text).slice(-complaintKept);
    });
    this.#process.on("message", (message: FromJobProcess<Result, News>) => this.#take(message));
    this.ended = new Promise((resolve) => {
      const end = (how: string) => {
        if (this.#hasEnded) return;
        this.#hasEnded = true;
        this.#settleWith({ kind: "ended", text: this.#complaint.trim() || how });
        resolve();
      };
      this.#process.on("close", (code, signal) =>
        end(`the process ended ${signal ? `by signal ${signal}` : `with code ${code}`}`),
      );
      this.#process.on("error", (error) => end(error.message));
    });
  }

  get pid(): number | undefined {
    return this.#hasEnded ? undefined : this.#process.pid;
  }

  get hasEnded(): boolean {
    return this.#hasEnded;
  }

  /** Does a job; it must not be asked for another before that has ended. */
  do(job: Job, onNews?: (news: News) => void): Promise<JobEnd<Result>> {
    return new Promise((resolve) => {
      this.#settle = resolve;
      this.#onNews = onNews;
      if (this.#hasEnded) this.#settleWith({ kind: "ended", text: "the process has ended" });
      const order: ToJobProcess<Job> = { kind: "do", id: ++this.#id, job };
      // A process that has ended says so by its own event.
      if (this.#process.connected) this.#process.send(order, () => {});
    });
  }

  /** Ends the process at once. Safe to call again. */
  kill(): Promise<void> {
    if (!this.#hasEnded) this.#process.kill("SIGKILL");
    return this.ended;
  }

  #take(message: FromJobProcess<Result, News>): void {
    if (message.kind === "ready" || message.id !== this.#id) return;
    if (message.kind === "news") this.#onNews?.(message.news);
    else this.#settleWith(message);
  }

  #settleWith(end: JobEnd<Result>): void {
    const settle = this.#settle;
    this.#settle = undefined;
    this.#onNews = undefined;
    settle?.(end);
  }
}

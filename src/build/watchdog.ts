import { once } from "node:events";
import { Worker } from "node:worker_threads";
import type { WatchdogOrder } from "./watchdogThread";

/** Time and memory that a design may use. */
export interface Limits {
  readonly timeLimitSeconds: number;
  readonly memoryLimitMB: number;
}

/** The main thread's hold on the watchdog: time counts only between `start` and `stop`. */
export class Watchdog {
  readonly #worker: Worker;
  #limits: Limits = { timeLimitSeconds: 10, memoryLimitMB: 1024 };
  #startedAt: bigint | undefined;
  #used = 0n;

  private constructor(worker: Worker) {
    this.#worker = worker;
  }

  /** @param script the script that runs `watchFromThread` when it is not the main thread */
  static async begin(script: string): Promise<Watchdog> {
    const worker = new Worker(script);
    await once(worker, "online");
    worker.unref();
    return new Watchdog(worker);
  }

  limit(limits: Limits): void {
    this.#limits = limits;
    this.#used = 0n;
  }

  start(): void {
    if (this.#startedAt !== undefined) return;
    this.#startedAt = process.hrtime.bigint();
    const left = BigInt(Math.round(this.#limits.timeLimitSeconds * 1e9)) - this.#used;
    const megabytes = this.#limits.memoryLimitMB;
    this.#order({ kind: "start", startedAt: this.#startedAt, milliseconds: Number(left) / 1e6, megabytes });
  }

  stop(): void {
    if (this.#startedAt === undefined) return;
    this.#used += process.hrtime.bigint() - this.#startedAt;
    this.#startedAt = undefined;
    this.#order({ kind: "stop" });
  }

  #order(order: WatchdogOrder): void {
    this.#worker.postMessage(order);
  }
}

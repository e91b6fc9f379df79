import { availableParallelism } from "node:os";
import { JobChild } from "./jobChild";

export interface JobPoolOptions {
  /** The bundled script that does jobs when it is started with `jobProcessWord`. */
  readonly script: string;
  /** Processes at once; as many as the machine has cores unless given. */
  readonly processes?: number;
  /** A process that holds more than this after a job is replaced by a new one, MB; 900 unless given. */
  readonly recycleMB?: number;
}

export interface JobOptions<News> {
  readonly onNews?: (news: News) => void;
  /** Ends the job, with its process where it runs already. */
  readonly signal?: AbortSignal;
  /** Jobs of one mark are left to one process as far as others have something else to do: it knows what they share. */
  readonly like?: string;
}

/** A job went wrong in a way that is no fault of what it worked on, or its process ended under it, twice. */
export class JobError extends Error {
  constructor(text: string) {
    super(text);
    this.name = "JobError";
  }
}

interface Waiting<Job, Result, News> {
  readonly job: Job;
  readonly options: JobOptions<News>;
  readonly resolve: (result: Result) => void;
  readonly reject: (error: unknown) => void;
  /** Times that it was begun. */
  begun: number;
}

/** A job whose process ends under it is begun so often. */
const attempts = 2;

/**
 * Does jobs in a few processes at once, in the order in which they are asked for. A process that dies takes no other
 * job with it; one that has grown large is replaced. None outlives the pool or the process that made it.
 */
export class JobPool<Job, Result, News = never> {
  readonly #script: string;
  readonly #most: number;
  readonly #recycleMB: number;
  readonly #waiting: Waiting<Job, Result, News>[] = [];
  readonly #idle: JobChild<Job, Result, News>[] = [];
  readonly #all = new Set<JobChild<Job, Result, News>>();
  /** What each process was last busy with. */
  readonly #marks = new WeakMap<JobChild<Job, Result, News>, string | undefined>();
  #isDisposed = false;

  constructor({ script, processes = availableParallelism(), recycleMB = 900 }: JobPoolOptions) {
    this.#script = script;
    this.#most = Math.max(1, processes);
    this.#recycleMB = recycleMB;
  }

  /** Ids of the processes that live now. */
  get processIds(): number[] {
    return [...this.#all].flatMap(({ pid }) => pid ?? []);
  }

  /**
   * Does a job as soon as a process is free. Rejects with the signal's reason when it is aborted, with a `JobError`
   * when it went wrong.
   */
  do(job: Job, options: JobOptions<News> = {}): Promise<Result> {
    return new Promise((resolve, reject) => {
      const { signal } = options;
      if (this.#isDisposed) return reject(new DOMException("the pool is closed", "AbortError"));
      if (signal?.aborted) return reject(signal.reason);
      const abort = () => {
        const at = this.#waiting.indexOf(waiting);
        if (at >= 0) this.#waiting.splice(at, 1);
        reject(signal?.reason);
      };
      const settled = () => signal?.removeEventListener("abort", abort);
      const waiting: Waiting<Job, Result, News> = {
        job,
        options,
        resolve: (result) => {
          settled();
          resolve(result);
        },
        reject: (error) => {
          settled();
          reject(error);
        },
        begun: 0,
      };
      this.#waiting.push(waiting);
      signal?.addEventListener("abort", abort, { once: true });
      this.#next();
    });
  }

  /** Ends all processes, and with them what they do; resolves when they are gone. */
  async dispose(): Promise<void> {
    this.#isDisposed = true;
    for (const { reject } of this.#waiting.splice(0)) {
      reject(new DOMException("the pool is closed", "AbortError"));
    }
    await Promise.all([...this.#all].map((child) => child.kill()));
  }

  #next(): void {
    while (this.#waiting.length > 0 && !this.#isDisposed) {
      const child = this.#idle.pop() ?? (this.#all.size < this.#most ? this.#start() : undefined);
      if (!child) return;
      const [waiting] = this.#waiting.splice(this.#best(child), 1);
      this.#marks.set(child, waiting.options.like);
      void this.#run(child, waiting);
    }
  }

  /** Which of those that wait is done next in a process: more of what it knows, else what no other one works on. */
  #best(child: JobChild<Job, Result, News>): number {
    const known = this.#marks.get(child);
    const more = this.#waiting.findIndex(({ options: { like } }) => like !== undefined && like === known);
    if (more >= 0) return more;
    const taken = new Set([...this.#all].flatMap((other) => this.#marks.get(other) ?? []));
    const free = this.#waiting.findIndex(({ options: { like } }) => like === undefined || !taken.has(like));
    return Math.max(0, free);
  }

  #start(): JobChild<Job, Result, News> {
    const child = new JobChild<Job, Result, News>(this.#script);
    this.#all.add(child);
    void child.ended.then(() => {
      this.#all.delete(child);
      const at = this.#idle.indexOf(child);
      if (at >= 0) this.#idle.splice(at, 1);
      this.#next();
    });
    return child;
  }

  async #run(child: JobChild<Job, Result, News>, waiting: Waiting<Job, Result, News>): Promise<void> {
    const { job, options, resolve, reject } = waiting;
    const { signal, onNews } = options;
    const stop = () => void child.kill();
    signal?.addEventListener("abort", stop, { once: true });
    waiting.begun++;
    const end = await child.do(job, onNews);
    signal?.removeEventListener("abort", stop);
    if (end.kind === "done") {
      resolve(end.result);
      if (end.memoryMB > this.#recycleMB) void child.kill();
      else if (!child.hasEnded) this.#idle.push(child);
    } else if (signal?.aborted || this.#isDisposed) {
      reject(signal?.reason ?? new DOMException("the pool is closed", "AbortError"));
      void child.kill();
    } else if (end.kind === "ended" && waiting.begun < attempts) {
      this.#waiting.unshift(waiting);
    } else {
      reject(new JobError(end.text));
      void child.kill();
    }
    this.#next();
  }
}

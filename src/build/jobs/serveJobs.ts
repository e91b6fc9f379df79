import type { FromJobProcess, ToJobProcess } from "./jobProtocol";

/** First word after the script of a process that does jobs. */
export const jobProcessWord = "job-process";

/** Whether this process was started by a pool to do jobs. */
export const isJobProcess = (): boolean => process.argv[2] === jobProcessWord && process.send !== undefined;

/**
 * Does the jobs that a pool hands to this process, one after the other, until the pool or its process is gone.
 * @param work does one job; `tell` passes on what is known meanwhile
 */
export function serveJobs<Job, Result, News>(
  work: (job: Job, tell: (news: News) => void) => Promise<Result>,
): void {
  const send = (message: FromJobProcess<Result, News>) => process.send?.(message);
  process.on("disconnect", () => process.exit(0));
  if (!process.connected) process.exit(0);
  // Ctrl-C in a terminal reaches all its processes; the pool decides what becomes of this one.
  process.on("SIGINT", () => {});
  process.on("message", ({ id, job }: ToJobProcess<Job>) => {
    work(job, (news) => send({ kind: "news", id, news })).then(
      (result) => send({ kind: "done", id, result, memoryMB: process.memoryUsage().rss / 2 ** 20 }),
      (error: unknown) =>
        send({
          kind: "fault",
          id,
          text: error instanceof Error ? (error.stack ?? error.message) : String(error),
        }),
    );
  });
  send({ kind: "ready" });
}

import type { RefitJob, RefitJobResult } from "../refit/refitJob";
import { doRefitJob } from "../refit/refitJob";
import { compareVersions } from "../versions/compareVersions";
import type { CompareRequest, CompareResult } from "../versions/comparison";
import { buildSide, type SideRequest, type SideResult } from "../versions/versionSide";
import { JobPool } from "./jobPool";
import { serveJobs } from "./serveJobs";

/** All that is done in processes of their own beside the engine's. */
export type Job =
  | { readonly kind: "refit"; readonly job: RefitJob }
  | { readonly kind: "compare"; readonly request: CompareRequest }
  /** One of the two pieces of a comparison, built beside the other. */
  | { readonly kind: "version-side"; readonly request: SideRequest };

export type JobResult =
  | { readonly kind: "refit"; readonly result: RefitJobResult }
  | { readonly kind: "compare"; readonly result: CompareResult }
  | { readonly kind: "version-side"; readonly result: SideResult };

/** What is told while a job goes on: a stage, in words. */
export type JobNews = { readonly stage: string };

/**
 * Does jobs until the pool is gone.
 * @param files what the engine runs, beside the script
 */
export function serveAllJobs(files: { readonly evaluator: string; readonly kernel: string }): void {
  serveJobs<Job, JobResult, JobNews>(async (job, tell) => {
    if (job.kind === "refit") return { kind: "refit", result: await doRefitJob(job.job, files) };
    if (job.kind === "version-side") {
      return { kind: "version-side", result: await buildSide(job.request, files) };
    }
    const other = sideProcess(process.argv[1]);
    try {
      const stage = (words: string) => tell({ stage: words });
      const options = { elsewhere: (side: SideRequest) => other.build(side) };
      return { kind: "compare", result: await compareVersions(job.request, files, stage, options) };
    } finally {
      await other.end();
    }
  });
}

/**
 * A process that builds one of the two pieces of a comparison.
 * @param script the bundled script that does jobs
 */
export function sideProcess(script: string): {
  readonly build: (request: SideRequest, signal?: AbortSignal) => Promise<SideResult>;
  /** Ends it, and what it does. */
  readonly end: () => Promise<void>;
} {
  const pool = new JobPool<Job, JobResult, JobNews>({ script, processes: 1 });
  return {
    async build(request, signal) {
      const done = await pool.do({ kind: "version-side", request }, signal && { signal });
      if (done.kind !== "version-side") throw new Error(`a side was asked for, ${done.kind} was done`);
      return done.result;
    },
    end: () => pool.dispose(),
  };
}

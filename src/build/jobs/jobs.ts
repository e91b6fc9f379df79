import type { RefitJob, RefitJobResult } from "../refit/refitJob";
import { doRefitJob } from "../refit/refitJob";
import { compareVersions } from "../versions/compareVersions";
import type { CompareRequest, CompareResult } from "../versions/comparison";
import { serveJobs } from "./serveJobs";

/** All that is done in processes of their own beside the engine's. */
export type Job =
  | { readonly kind: "refit"; readonly job: RefitJob }
  | { readonly kind: "compare"; readonly request: CompareRequest };

export type JobResult =
  | { readonly kind: "refit"; readonly result: RefitJobResult }
  | { readonly kind: "compare"; readonly result: CompareResult };

/** What is told while a job goes on: a stage, in words. */
export type JobNews = { readonly stage: string };

/**
 * Does jobs until the pool is gone.
 * @param files what the engine runs, beside the script
 */
export function serveAllJobs(files: { readonly evaluator: string; readonly kernel: string }): void {
  serveJobs<Job, JobResult, JobNews>(async (job, tell) => {
    if (job.kind === "refit") return { kind: "refit", result: await doRefitJob(job.job, files) };
    return {
      kind: "compare",
      result: await compareVersions(job.request, files, (stage) => tell({ stage })),
    };
  });
}

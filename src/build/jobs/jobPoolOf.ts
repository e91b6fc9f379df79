import { JobPool, type JobPoolOptions } from "./jobPool";
import type { Job, JobNews, JobResult } from "./jobs";

/** A pool of processes that do what `jobs.ts` knows. */
export const jobPool = (options: JobPoolOptions): JobPool<Job, JobResult, JobNews> => new JobPool(options);

/** What a pool of processes and each of them tell each other about jobs: one job at a time. */
export type ToJobProcess<Job> = { readonly kind: "do"; readonly id: number; readonly job: Job };

export type FromJobProcess<Result, News> =
  | { readonly kind: "ready" }
  /** Something that is known while the job goes on. */
  | { readonly kind: "news"; readonly id: number; readonly news: News }
  /** `memoryMB`: what the process holds after it. */
  | { readonly kind: "done"; readonly id: number; readonly result: Result; readonly memoryMB: number }
  /** The job itself threw: a fault of the tool, not of what it worked on. */
  | { readonly kind: "fault"; readonly id: number; readonly text: string };

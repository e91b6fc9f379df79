import { jobPool } from "../jobs/jobPoolOf";
import type { RefitEvents, RefitRequest, RefitTable } from "./refitRequest";
import { RefitRun } from "./refitRun";
import { sweep } from "./rowLock";

export type { RefitCell, RefitEvents, RefitRequest, RefitTable } from "./refitRequest";

/**
 * Fits designs to wearers, in several processes at once. What is wrong with a design or a wearer is told in its rows and
 * holds up no other.
 * @param script the bundled script that does jobs (`jobs/serveJobs.ts`)
 * @throws the signal's reason on abort; all processes have ended then, and rows that were made are kept
 */
export async function refit(
  request: RefitRequest,
  script: string,
  events: RefitEvents = {},
): Promise<RefitTable> {
  const { signal } = events;
  const { folder, processes } = request;
  signal?.throwIfAborted();
  if (folder !== undefined) await sweep(folder);
  const pool = jobPool({ script, ...(processes !== undefined && { processes }) });
  const stop = () => void pool.dispose();
  signal?.addEventListener("abort", stop, { once: true });
  const run = new RefitRun(request, script, pool, events);
  try {
    signal?.throwIfAborted();
    const table = request.cells ? await run.cells(request.cells) : await run.designs();
    signal?.throwIfAborted();
    return table;
  } catch (error) {
    throw signal?.aborted ? signal.reason : error;
  } finally {
    signal?.removeEventListener("abort", stop);
    await pool.dispose();
    // A process that was ended while it wrote leaves what it had begun.
    if (signal?.aborted && folder !== undefined) await sweep(folder);
    if (signal?.aborted) events.onStopped?.(await run.keptRows(), run.all);
  }
}

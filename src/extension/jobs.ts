import { join } from "node:path";
import type * as vscode from "vscode";
import { jobPool } from "../build/jobs/jobPoolOf";

/** What runs beside the engine in processes of its own: refits, comparisons. */
export interface Jobs {
  /** The bundled script that does jobs. */
  readonly script: string;
  /** A pool of processes; the caller disposes of it. */
  pool(processes?: number): ReturnType<typeof jobPool>;
  /** Ids of the processes of all pools that live now. */
  readonly processIds: readonly number[];
  /** Ends all of them. */
  dispose(): Promise<void>;
}

/** The jobs of this window, from the files that come with the extension. */
export function jobsOfWindow(extension: vscode.Uri): Jobs {
  const script = join(extension.fsPath, "dist", "engine.cjs");
  const pools = new Set<ReturnType<typeof jobPool>>();
  return {
    script,
    pool(processes) {
      const pool = jobPool({ script, ...(processes !== undefined && { processes }) });
      pools.add(pool);
      return pool;
    },
    get processIds() {
      return [...pools].flatMap((pool) => pool.processIds);
    },
    async dispose() {
      await Promise.all([...pools].map((pool) => pool.dispose()));
      pools.clear();
    },
  };
}

import type { Message } from "../../message";
import type { RefitRow } from "./refitRow";

/** What one refit is asked for. */
export interface RefitRequest {
  /** Design files, absolute. */
  readonly designs: readonly string[];
  /** Wearer files, absolute. The wearer that a design names comes first in its rows, whether it is among them or not. */
  readonly wearers: readonly string[];
  /** Where files of rows that pass go, and what is kept to resume: `folder/DESIGN/WEARER/`. Without one nothing is written. */
  readonly folder?: string;
  /** Make rows again that are good already. */
  readonly afresh?: boolean;
  /** Absolute paths that stand in for those that the designs name. */
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  /** Texts that stand in for files on disk, by absolute path: what is being typed. */
  readonly texts?: Readonly<Record<string, string>>;
  readonly timeLimitSeconds?: number;
  readonly memoryLimitMB?: number;
  /** Processes at once; one a core unless given. */
  readonly processes?: number;
  /** With a small picture each. */
  readonly pictures?: boolean;
}

/** What is told while a refit goes on. */
export interface RefitEvents {
  /** How many rows there will be, and how many are there. */
  readonly onProgress?: (done: number, all: number) => void;
  readonly onRow?: (row: RefitRow) => void;
  readonly signal?: AbortSignal;
}

export interface RefitTable {
  /** By design, then by wearer, in the order asked for. */
  readonly rows: readonly RefitRow[];
  readonly messages: readonly Message[];
}

/**
 * Fits designs to wearers, in several processes at once.
 * @param script the bundled script that does jobs (`jobs/serveJobs.ts`)
 */
export async function refit(
  _request: RefitRequest,
  _script: string,
  _events: RefitEvents = {},
): Promise<RefitTable> {
  return { rows: [], messages: [] };
}

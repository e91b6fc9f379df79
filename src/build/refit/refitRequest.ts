import type { ParameterValue } from "../../design/part";
import type { Message } from "../../message";
import type { RefitRow } from "./refitRow";

/** A row that is asked for by itself. Paths are absolute; those of printer, material and print stand in for the request's. */
export interface RefitCell {
  readonly design: string;
  readonly wearer: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
  /** Values of the design's parameters, by name. */
  readonly values?: Readonly<Record<string, ParameterValue>>;
  /**
   * What tells it from other cells of the same design and wearer, a name of a folder: it is kept, and its files lie, in
   * `folder/DESIGN/WEARER/NAME/`.
   */
  readonly name?: string;
  /**
   * Where it is too large for the plate it is cut into pieces: `hours` and `filament` are those of all their plates, and
   * `plate.pieces` says how many they are.
   */
  readonly isCut?: boolean;
}

/** What one refit is asked for. */
export interface RefitRequest {
  /** Design files, absolute. */
  readonly designs: readonly string[];
  /** Wearer files, absolute. The wearer that a design names comes first in its rows, whether it is among them or not. */
  readonly wearers: readonly string[];
  /**
   * Rows asked for one by one, in place of every design on every wearer: `designs` and `wearers` are then not looked
   * at, no row of a design's own wearer is added, and rows have no `changes`. `RefitTable.rows` has one row for each
   * cell, in the order of the cells.
   */
  readonly cells?: readonly RefitCell[];
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
  /** With all files that `anadem build` makes of a piece, and its whole plan, instead of what is printed and the report. */
  readonly whole?: boolean;
}

/** What is told while a refit goes on. */
export interface RefitEvents {
  /** How many rows there will be, and how many are there. */
  readonly onProgress?: (done: number, all: number) => void;
  readonly onRow?: (row: RefitRow) => void;
  /** Told after an abort, when all processes have ended: how many rows lie there to go on from, of how many. */
  readonly onStopped?: (kept: number, all: number) => void;
  readonly signal?: AbortSignal;
}

export interface RefitTable {
  /** By design, then by wearer, in the order asked for. */
  readonly rows: readonly RefitRow[];
  readonly messages: readonly Message[];
}

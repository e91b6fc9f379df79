import { createHash } from "node:crypto";
import { readFileSync, statSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import type { Report } from "../../export/report";
import type { FileToPlace } from "../placeFiles";
import type { OpenTexts } from "../sourceTexts";
import { workspaceLimitsFile } from "../workspaceLimits";
import type { RefitRow } from "./refitRow";

/** The file that says what was made in a row's folder, and from what; written last. */
export const keptRowName = "row.json";

const format = "anadem-refit-row";
const formatVersion = 1;

/** A row as it is kept to resume. */
export interface KeptRow {
  /** Stands for the tool and all that was asked for besides the content of files. */
  readonly asked: string;
  /** The wearer that the design itself names, absolute. */
  readonly ownWearer?: string;
  /** Content of what it depends on, by absolute path: a hash, or null where there was no such file. */
  readonly inputs: Readonly<Record<string, string | null>>;
  /** Hashes of the files that were written, by name in the folder. */
  readonly files: Readonly<Record<string, string>>;
  /** As it was made, without `changes`. */
  readonly row: RefitRow;
  readonly report?: Report;
}

export const hashOf = (content: string | Uint8Array): string =>
  createHash("sha256").update(content).digest("hex");

/** The content of a file, or of the text that stands in for it, as a hash; null where there is none. */
export function inputHash(path: string, texts: OpenTexts = {}): string | null {
  if (Object.hasOwn(texts, path)) return hashOf(texts[path]);
  try {
    return hashOf(readFileSync(path));
  } catch {
    return null;
  }
}

/**
 * The content of inputs as they were read; undefined where one was written since, so that it cannot be known which
 * content was read.
 * @param since when the reading began, ms since 1970
 */
export function inputsAsRead(
  paths: readonly string[],
  since: number,
  texts: OpenTexts = {},
): Record<string, string | null> | undefined {
  const hashes: Record<string, string | null> = {};
  for (const path of paths) {
    if (!Object.hasOwn(texts, path)) {
      const found = statSync(path, { throwIfNoEntry: false });
      if (found && Math.max(found.mtimeMs, found.ctimeMs) >= since) return undefined;
    }
    hashes[path] = inputHash(path, texts);
  }
  return hashes;
}

/** A row as the file that is kept of it. */
export const keptRowFile = (folder: string, kept: KeptRow): FileToPlace => ({
  path: join(folder, keptRowName),
  content: `${JSON.stringify({ format, formatVersion, ...kept })}\n`,
});

/** What is kept in a row's folder; undefined where there is nothing that this version reads. */
export async function readKeptRow(folder: string): Promise<KeptRow | undefined> {
  try {
    const kept = JSON.parse(await readFile(join(folder, keptRowName), "utf8"));
    const isOurs = kept?.format === format && kept.formatVersion === formatVersion;
    return isOurs && kept.row && kept.inputs && kept.files ? kept : undefined;
  } catch {
    return undefined;
  }
}

/** Rows that are kept of a design, each with its folder. */
export async function keptRowsOf(designFolder: string): Promise<{ folder: string; kept: KeptRow }[]> {
  const names = await readdir(designFolder).catch(() => []);
  const found = await Promise.all(
    names.sort().map(async (name) => {
      const folder = join(designFolder, name);
      const kept = await readKeptRow(folder);
      return kept ? [{ folder, kept }] : [];
    }),
  );
  return found.flat();
}

/** Tells whether what is kept is good still; reads each input once. */
export class Freshness {
  readonly #texts: OpenTexts;
  readonly #known = new Map<string, string | null>();

  constructor(texts: OpenTexts = {}) {
    this.#texts = texts;
  }

  /** Whether all that a row depends on is as it was. */
  isCurrent({ row, inputs }: KeptRow): boolean {
    // A file of limits that was put nearer to the design since is none of the inputs.
    if (!Object.hasOwn(inputs, workspaceLimitsFile(row.design, this.#texts))) return false;
    return Object.entries(inputs).every(([path, hash]) => this.#hash(path) === hash);
  }

  /** Whether the files that were written lie in its folder as they were written. */
  async areThere({ files }: KeptRow, folder: string): Promise<boolean> {
    for (const [name, hash] of Object.entries(files)) {
      const content = await readFile(join(folder, name)).catch(() => undefined);
      if (!content || hashOf(content) !== hash) return false;
    }
    return true;
  }

  #hash(path: string): string | null {
    let hash = this.#known.get(path);
    if (hash === undefined) {
      hash = inputHash(path, this.#texts);
      this.#known.set(path, hash);
    }
    return hash;
  }
}

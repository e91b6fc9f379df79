import { stat } from "node:fs/promises";

/**
 * Tells a file that somebody else changed from one that the editor has just saved: the watcher speaks of both, and a
 * save must not build twice.
 */
export class FileStamps {
  readonly #seen = new Map<string, Promise<string>>();

  /** The file as it stands now is known. */
  see(file: string): void {
    this.#seen.set(file, stampOf(file));
  }

  /** Whether the file differs from what was seen last; sees it. */
  async isNews(file: string): Promise<boolean> {
    const before = this.#seen.get(file);
    const now = stampOf(file);
    this.#seen.set(file, now);
    return before === undefined || (await before) !== (await now);
  }
}

async function stampOf(file: string): Promise<string> {
  try {
    const { mtimeMs, size, ino } = await stat(file);
    return `${mtimeMs} ${size} ${ino}`;
  } catch {
    return "gone";
  }
}

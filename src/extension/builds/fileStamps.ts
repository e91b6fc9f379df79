import { stat } from "node:fs/promises";

/**
 * Tells a file that somebody else changed from one that the editor has just saved: the watcher speaks of both, and a
 * save must not build twice.
 */
export class FileStamps {
  readonly #seen = new Map<string, Promise<string>>();
  readonly #saving = new Map<string, number>();

  /** The editor is about to write the file: what is heard of it meanwhile is that. */
  expect(file: string): void {
    this.#saving.set(file, performance.now());
  }

  /** The editor has written the file: as it stands now it is known. */
  see(file: string): void {
    this.#saving.delete(file);
    this.#seen.set(file, stampOf(file));
  }

  /** Whether the file differs from what was seen last, and is not just being saved; sees it. */
  async isNews(file: string): Promise<boolean> {
    const since = this.#saving.get(file);
    if (since !== undefined && performance.now() - since < longestSave) return false;
    const before = this.#seen.get(file);
    const now = stampOf(file);
    this.#seen.set(file, now);
    return before === undefined || (await before) !== (await now);
  }
}

/** A save that was announced and has not come by then has failed, ms. */
const longestSave = 10_000;

async function stampOf(file: string): Promise<string> {
  try {
    const { mtimeMs, size, ino } = await stat(file);
    return `${mtimeMs} ${size} ${ino}`;
  } catch {
    return "gone";
  }
}

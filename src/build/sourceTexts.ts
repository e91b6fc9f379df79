import { readFileSync, statSync } from "node:fs";

/** Texts that stand in for files on disk, by absolute path: what is being typed. */
export type OpenTexts = Readonly<Record<string, string>>;

/** A file's text: the one that stands in for it, else what is on disk. Throws the file system's error. */
export const sourceText = (path: string, texts: OpenTexts = {}): string =>
  Object.hasOwn(texts, path) ? texts[path] : readFileSync(path, "utf8");

/** Whether there is a file of that name, on disk or as a text that stands in for it. */
export const isSource = (path: string, texts: OpenTexts = {}): boolean =>
  Object.hasOwn(texts, path) || (statSync(path, { throwIfNoEntry: false })?.isFile() ?? false);

/** As `sourceText`; undefined where it cannot be read. */
export function knownText(path: string, texts?: OpenTexts): string | undefined {
  try {
    return sourceText(path, texts);
  } catch {
    return undefined;
  }
}

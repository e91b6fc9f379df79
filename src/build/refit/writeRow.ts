import { readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { nameOfDesign, type OutputFile } from "../outputs";
import { placeFiles } from "../placeFiles";
import { hashOf, type KeptRow, keptRowFile, keptRowName } from "./keptRow";
import { alone } from "./rowLock";

/** What follows a design's name in the files of a piece. */
const outputSuffix =
  /^\.(?:stl|report\.(?:json|md)|drawing\.svg|sight\.svg|plate(?:-\d+)?\.(?:stl|3mf)|piece-[A-Z]+\.stl|workshop\.html)$/;

/**
 * Writes a row's files and what is kept of it, each whole, in place of those of an earlier run. Between two runs at once
 * the later wins, with all its files.
 * @param files their paths are names in the folder
 * @param isKept also what says that the row need not be made again
 * @returns the files, absolute
 * @throws MessageError naming the file that cannot be written
 */
export function writeRow(
  folder: string,
  files: readonly OutputFile[],
  kept: Omit<KeptRow, "files">,
  isKept: boolean,
): Promise<string[]> {
  return alone(folder, async () => {
    const hashes = Object.fromEntries(files.map(({ path, content }) => [path, hashOf(content)]));
    const placed = files.map((file) => ({ ...file, path: join(folder, file.path) }));
    const state = isKept ? [keptRowFile(folder, { ...kept, files: hashes })] : [];
    await placeFiles([...placed, ...state]);
    if (!isKept) await rm(join(folder, keptRowName), { force: true });
    await removeOthers(folder, nameOfDesign(kept.row.design), new Set(files.map(({ path }) => path)));
    return placed.map(({ path }) => path);
  });
}

/** Takes away the outputs of an earlier run: nobody is to print what does not pass any more. */
async function removeOthers(folder: string, name: string, written: ReadonlySet<string>): Promise<void> {
  for (const file of await readdir(folder)) {
    if (!file.startsWith(name) || written.has(file)) continue;
    if (outputSuffix.test(file.slice(name.length))) await rm(join(folder, file), { force: true });
  }
}

import { posix } from "node:path";
import { startingFiles } from "../../build/startingFiles";
import { partyEdit } from "../statusBar/partyEdit";
import { nameOfPath } from "../tree/partyUse";

/** A file to be made. */
export interface NewFile {
  /** With slashes, absolute. */
  readonly path: string;
  readonly content: string;
}

/**
 * The files of a new design, the design first. The types of the language and a tsconfig, which the command line's
 * `new` adds, are left out: in the editor the extension itself lends both to TypeScript, and nothing is left in the
 * folder to grow old.
 * @param wearer path of the wearer's file; undefined: one of mean size is made, to be measured later
 */
export function newDesignFiles(folder: string, name: string, wearer: string | undefined): NewFile[] {
  const files = startingFiles(name, { anadem: "", modeling: "" })
    .filter(({ kind }) => kind === "design" || (kind === "wearer" && wearer === undefined))
    .map(({ path, content }) => ({ path: posix.join(folder, path), content }));
  if (wearer === undefined) return files;
  const [design] = files;
  const change = partyEdit(design.content, "wearer", nameOfPath(design.path, wearer));
  if (!change) throw new Error("the starting design names no wearer");
  const { content } = design;
  return [{ ...design, content: content.slice(0, change.start) + change.text + content.slice(change.end) }];
}

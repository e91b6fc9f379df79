import { createHash } from "node:crypto";
import { basename, join } from "node:path";
import { nameOfDesign } from "../outputs";

/** Where a row's files go: `folder/DESIGN/WEARER`, or `folder/DESIGN/WEARER/NAME`. */
export interface RowPlace {
  /** Of the design. */
  readonly folder: string;
  /** Wearers that the design is made for, so that two files of one name get folders of their own. */
  readonly wearers: readonly string[];
  readonly name?: string;
}

const wearerSuffix = /\.wearer\.json$|\.[^.]*$/;

/** `kelp-queen` of `samples/kelp-queen.wearer.json`. */
export const nameOfWearer = (wearer: string): string => basename(wearer).replace(wearerSuffix, "");

/** The folder of a design's rows. @param designs all that are asked for; files of one name are told apart */
export const designFolder = (folder: string, design: string, designs: readonly string[]): string =>
  join(folder, ownName(design, nameOfDesign, designs));

/** The folder of one row. */
export function rowFolder({ folder, wearers, name }: RowPlace, wearer: string): string {
  const own = join(folder, ownName(wearer, nameOfWearer, wearers));
  return name === undefined ? own : join(own, name);
}

/** A name that no other file has, also where capitals do not count. */
function ownName(file: string, nameOf: (file: string) => string, all: readonly string[]): string {
  const name = nameOf(file);
  const isShared = all.some((other) => other !== file && nameOf(other).toLowerCase() === name.toLowerCase());
  return isShared ? `${name}-${createHash("sha256").update(file).digest("hex").slice(0, 8)}` : name;
}

import { relative } from "node:path";

/** A file that a command wrote. */
export interface WrittenFile {
  readonly path: string;
  readonly kind: string;
}

/** The files for a person, as seen from the working folder. */
export function writtenText(files: readonly WrittenFile[]): string {
  const shown = files.map(({ path }) => {
    const near = relative(process.cwd(), path);
    return near.startsWith("..") ? path : near;
  });
  return ["Written:", ...shown.map((path) => `  ${path}`), ""].join("\n");
}

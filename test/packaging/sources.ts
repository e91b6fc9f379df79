import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "../../src/tools/setup.mjs";

interface SourceFile {
  /** Relative to the project, with slashes. */
  readonly path: string;
  readonly text: string;
}

/** The files below a folder whose names end so: their texts, or what `take` makes of them. */
export function sources<T = string>(
  folder: string,
  ending = ".ts",
  take: (file: SourceFile) => T = ({ text }) => text as T,
): T[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) =>
      take({
        path: `${folder}/${name.replaceAll("\\", "/")}`,
        text: readFileSync(join(root, folder, name), "utf8"),
      }),
    );
}

import { posix } from "node:path";

/** What a file is called in a list: its name without our ending. */
export const stemOf = (path: string, ending: string): string => posix.basename(path).slice(0, -ending.length);

/**
 * Labels for files: the stem, and before it as many folders as tell files of the same stem apart.
 * @param paths with slashes
 */
export function distinctLabels(paths: readonly string[], ending: string): string[] {
  return paths.map((path) => {
    const stem = stemOf(path, ending);
    const others = paths.filter((other) => other !== path && stemOf(other, ending) === stem);
    const folders = posix
      .dirname(path)
      .split("/")
      .filter((name) => name !== "" && name !== ".");
    let label = stem;
    let ends = posix.basename(path);
    while (folders.length > 0 && others.some((other) => `/${other}`.endsWith(`/${ends}`))) {
      const folder = folders.pop();
      label = `${folder}/${label}`;
      ends = `${folder}/${ends}`;
    }
    return label;
  });
}

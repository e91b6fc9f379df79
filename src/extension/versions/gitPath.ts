import { existsSync } from "node:fs";
import { isAbsolute } from "node:path";

/**
 * Git's executable from the editor's own setting, which is one path or several of which the first that exists counts;
 * else the one on the search path. What is not an absolute path is not taken.
 */
export function gitExecutable(setting: unknown): string {
  const paths = Array.isArray(setting) ? setting : [setting];
  const found = paths.find(
    (path): path is string => typeof path === "string" && isAbsolute(path) && existsSync(path),
  );
  return found ?? "git";
}

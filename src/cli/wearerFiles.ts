import { readdirSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { UsageError } from "./command";
import { existing } from "./designOptions";

const ending = ".wearer.json";

/** Wearers' files, absolute, each once: those named, and of a folder all `*.wearer.json` that lie in it, by name. */
export function wearerFiles(places: readonly string[], option: string): string[] {
  const files = places.flatMap((place) => {
    const path = existing(resolve(place), option);
    if (!statSync(path).isDirectory()) return [path];
    const own = readdirSync(path)
      .filter((name) => name.endsWith(ending))
      .sort();
    if (own.length === 0) {
      throw new UsageError(`${option}: no *${ending} lies in ${path}`, "give the folder in which they lie");
    }
    return own.map((name) => join(path, name));
  });
  return [...new Set(files)];
}

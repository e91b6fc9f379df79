import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, sep } from "node:path";
import { isSource } from "../sourceTexts";
import { workspaceLimitsFile, workspaceLimitsName } from "../workspaceLimits";

const prefix = "anadem-version-";

/** Files of a commit on disk, in a folder of their own, laid out as in the repository. */
export class VersionFolder {
  /** Absolute; ends with no separator. */
  readonly #home: string;
  /** Where the top of the repository is. */
  readonly top: string;

  /**
   * @param limits the file of limits in force outside the repository, if there is one: it holds for every version
   */
  constructor(contents: ReadonlyMap<string, Uint8Array>, limits?: string) {
    sweep();
    this.#home = realpathSync(mkdtempSync(join(tmpdir(), `${prefix}${process.pid}-`)));
    this.top = join(this.#home, "repository");
    made.add(this.#home);
    if (made.size === 1) process.on("exit", removeAll);
    // A file of limits here ends the look for one farther up.
    writeFileSync(join(this.#home, workspaceLimitsName), limits ? readFileSync(limits) : "{}");
    mkdirSync(this.top);
    for (const [path, content] of contents) {
      const file = this.at(path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, content);
    }
  }

  /** Where a path of the repository lies. */
  at(path: string): string {
    return join(this.top, ...path.split("/"));
  }

  /** The path from the top of the repository, with `/` between; undefined for what lies elsewhere. */
  pathOf(file: string): string | undefined {
    return file.startsWith(this.top + sep)
      ? file
          .slice(this.top.length + 1)
          .split(sep)
          .join("/")
      : undefined;
  }

  /** Whether a file is the one of limits that was put there. */
  isLimits(file: string): boolean {
    return file === join(this.#home, workspaceLimitsName);
  }

  /** Removes all of it. Safe to call again. */
  remove(): void {
    rmSync(this.#home, { recursive: true, force: true });
    made.delete(this.#home);
    if (made.size === 0) process.off("exit", removeAll);
  }
}

/** Folders that exist now: a process that ends takes them with it. */
const made = new Set<string>();

function removeAll(): void {
  for (const home of made) rmSync(home, { recursive: true, force: true });
}

/** Removes what processes left behind that were ended at once. */
function sweep(): void {
  for (const name of readdirSync(tmpdir())) {
    const id = name.startsWith(prefix) ? Number(name.slice(prefix.length).split("-")[0]) : Number.NaN;
    if (!Number.isInteger(id) || id <= 0 || isRunning(id)) continue;
    try {
      rmSync(join(tmpdir(), name), { recursive: true, force: true });
    } catch {
      // It is somebody else's.
    }
  }
}

function isRunning(id: number): boolean {
  try {
    process.kill(id, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}

/** The file of limits that holds for a design and lies outside its repository; undefined where there is none. */
export function outerLimits(design: string, top: string): string | undefined {
  const file = workspaceLimitsFile(realpathSync(design));
  const isInside = file.startsWith(realpathSync(top) + sep);
  return !isInside && isSource(file) ? file : undefined;
}

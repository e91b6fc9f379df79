import { readdirSync, readFileSync } from "node:fs";

export interface Process {
  readonly pid: number;
  readonly parent: number;
  /** Words of the command line with spaces between. */
  readonly command: string;
}

/** All processes that a process started, and those that they started. Linux only. */
export function processesBelow(pid: number): Process[] {
  const all = readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .flatMap((name) => processOf(Number(name)));
  const below = new Set([pid]);
  const found: Process[] = [];
  // A child may come before its parent in the list.
  for (let grown = true; grown; ) {
    grown = false;
    for (const each of all) {
      if (!below.has(each.parent) || below.has(each.pid)) continue;
      below.add(each.pid);
      found.push(each);
      grown = true;
    }
  }
  return found;
}

/** None where it ended meanwhile. */
function processOf(pid: number): Process[] {
  try {
    const parent = /^PPid:\s+(\d+)$/m.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1];
    const command = readFileSync(`/proc/${pid}/cmdline`, "utf8").replaceAll("\0", " ").trim();
    return [{ pid, parent: Number(parent), command }];
  } catch {
    return [];
  }
}

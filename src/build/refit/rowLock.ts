import { link, mkdir, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";

/** Stands in a folder while a process writes there: its id and machine. */
const lockName = ".row.lock";
/** Files as `placeFiles` names them while they are written. */
const temporary = /^\..+\.[0-9a-f]{12}\.tmp$/;
/** A folder's files take a second or two: who holds it longer is gone, on whatever machine. */
const longestHold = 60_000;
const pollEvery = 25;
/** Folders below that of a refit: of designs, wearers, cells. */
const depth = 3;

const codeOf = (error: unknown) => (error as NodeJS.ErrnoException).code;

/**
 * Works in a folder while no other process does, this one's other work included. The folder is made; what a process
 * that was killed left half written there is taken away first.
 */
export async function alone<T>(folder: string, work: () => Promise<T>): Promise<T> {
  const lock = join(folder, lockName);
  await hold(folder, lock);
  try {
    await removeTemporaries(folder);
    return await work();
  } finally {
    await rm(lock, { force: true });
  }
}

/** Takes away what killed processes left half written in a folder and those below it. */
export async function sweep(folder: string, levels = depth): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  if (entries.some(({ name }) => name === lockName || temporary.test(name))) {
    await alone(folder, async () => {}).catch(() => {});
  }
  if (levels === 0) return;
  for (const entry of entries) {
    if (entry.isDirectory()) await sweep(join(folder, entry.name), levels - 1);
  }
}

async function hold(folder: string, lock: string): Promise<void> {
  const own = `${process.pid} ${hostname()}`;
  for (;;) {
    try {
      await mkdir(folder, { recursive: true });
      await writeFile(lock, own, { flag: "wx" });
      return;
    } catch (error) {
      if (codeOf(error) !== "EEXIST") throw error;
    }
    const holder = await readFile(lock, "utf8").catch(() => undefined);
    if (holder === undefined) continue;
    if (await isGone(lock, holder)) await release(lock, holder);
    else await wait(pollEvery);
  }
}

async function isGone(lock: string, holder: string): Promise<boolean> {
  const made = await stat(lock).catch(() => undefined);
  if (!made) return true;
  if (Date.now() - made.mtimeMs > longestHold) return true;
  const [id, machine] = holder.split(" ");
  // A text that is not there yet is being written.
  if (machine !== hostname()) return false;
  try {
    process.kill(Number(id), 0);
    return false;
  } catch (error) {
    return codeOf(error) === "ESRCH";
  }
}

/** Takes a lock away whose holder is gone, unless somebody else did meanwhile and holds it now. */
async function release(lock: string, holder: string): Promise<void> {
  const aside = `${lock}.${process.pid}`;
  try {
    await rename(lock, aside);
  } catch {
    return;
  }
  const taken = await readFile(aside, "utf8").catch(() => holder);
  if (taken !== holder) await link(aside, lock).catch(() => {});
  await rm(aside, { force: true });
}

async function removeTemporaries(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (temporary.test(name)) await rm(join(folder, name), { force: true });
  }
}

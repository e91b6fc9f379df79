/**
 * Processes, temporary folders and waits of a run in a real editor. Whatever is started here has a process group of its
 * own and is ended with all that it started: when it is asked for, when this program ends, and on Ctrl-C.
 */

import { spawn, spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";

const isWindows = process.platform === "win32";

/** @type {Set<import("node:child_process").ChildProcess>} */
const groups = new Set();
/** @type {Set<string>} */
const folders = new Set();

process.on("exit", () => {
  for (const child of groups) signalGroup(child, "SIGKILL");
  // What was ended a moment ago may still write.
  for (const folder of folders) rmSync(folder, { recursive: true, force: true, maxRetries: 10 });
});

/** From here on an interrupt ends this program in an orderly way, and so all that it started. */
export function endOnInterrupt() {
  for (const [signal, status] of /** @type {const} */ ([
    ["SIGINT", 130],
    ["SIGTERM", 143],
    ["SIGHUP", 129],
  ])) {
    process.on(signal, () => process.exit(status));
  }
}

/**
 * A folder that is gone when this program ends.
 * @param {string} name
 */
export function temporaryFolder(name) {
  const folder = mkdtempSync(join(tmpdir(), `anadem-${name}-`));
  folders.add(folder);
  return folder;
}

/**
 * Starts a program in a process group of its own.
 * @param {string} command
 * @param {readonly string[]} args
 * @param {{ cwd?: string, env?: NodeJS.ProcessEnv, say?: (text: string) => void }} options `say` is told its output
 */
export function startGroup(command, args, { cwd, env, say = () => {} } = {}) {
  const child = spawn(command, args, {
    cwd,
    env: env ?? process.env,
    detached: !isWindows,
    stdio: ["ignore", "pipe", "pipe"],
  });
  groups.add(child);
  child.stdout.setEncoding("utf8").on("data", say);
  child.stderr.setEncoding("utf8").on("data", say);
  return child;
}

/**
 * Ends a group: asked at first, by force after `patience` ms. The leader may be gone while others of its group are not.
 * @param {import("node:child_process").ChildProcess} child
 * @param {number} patience
 */
export async function endGroup(child, patience = 5000) {
  if (!groups.has(child)) return;
  signalGroup(child, "SIGTERM");
  const until = performance.now() + patience;
  while (signalGroup(child, 0) && performance.now() < until) await pause(50);
  signalGroup(child, "SIGKILL");
  groups.delete(child);
}

/**
 * Runs a program to its end.
 * @param {string} command
 * @param {readonly string[]} args
 * @param {{ cwd?: string, env?: NodeJS.ProcessEnv, seconds: number, say?: (text: string) => void }} options `seconds` is the most that it may take
 * @returns {Promise<{ status: number | null, output: string }>}
 * @throws when it does not start, or does not end in time
 */
export async function runGroup(command, args, { cwd, env, seconds, say }) {
  let output = "";
  const child = startGroup(command, args, {
    cwd,
    env,
    say: (text) => {
      output += text;
      say?.(text);
    },
  });
  try {
    const ended = new Promise((resolve, reject) => {
      child.on("error", reject);
      child.on("close", resolve);
    });
    const status = await within(seconds, `${command} ${args[0] ?? ""}`, ended);
    return { status, output };
  } finally {
    await endGroup(child);
  }
}

/** @returns {boolean} whether there was somebody to be told */
function signalGroup(child, signal) {
  if (child.pid === undefined) return false;
  try {
    if (isWindows && signal !== 0) spawnSync("taskkill", ["/pid", String(child.pid), "/T", "/F"]);
    else process.kill(isWindows ? child.pid : -child.pid, signal);
    return true;
  } catch {
    return false;
  }
}

/** @param {number} milliseconds */
export const pause = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds));

/**
 * A promise that is not waited for longer than this.
 * @template T
 * @param {number} seconds
 * @param {string} what for the error
 * @param {Promise<T>} promise
 * @returns {Promise<T>}
 */
export function within(seconds, what, promise) {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(
      () => reject(new Error(`${what}: no answer within ${seconds} s`)),
      1000 * seconds,
    );
    promise.then(resolve, reject).finally(() => clearTimeout(timer));
  });
}

/** A port of the loopback interface that is free now. @returns {Promise<number>} */
export function freePort() {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.on("error", reject);
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => resolve(typeof address === "object" && address ? address.port : 0));
    });
  });
}

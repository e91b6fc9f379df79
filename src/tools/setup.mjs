import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The project's folder. */
export const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");

const leastNode = 20;

/**
 * Installs the packages that the lock file names, unless they are there already. Needs Node and npm only.
 * @param {(text: string) => void} say told what goes on
 */
export function ensurePackages(say) {
  const major = Number(process.versions.node.split(".")[0]);
  if (major < leastNode) {
    console.error(`Anadem needs Node ${leastNode} or newer; this is ${process.versions.node}.`);
    process.exit(1);
  }
  const lock = readFileSync(join(root, "package-lock.json"));
  const wanted = createHash("sha256").update(lock).update(process.version).digest("hex");
  const stamp = join(root, "node_modules", ".anadem-installed");
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === wanted) return;
  say("Installing packages…");
  // The output of npm goes to the error stream: standard output may be somebody's JSON.
  const npm = process.platform === "win32" ? "npm.cmd" : "npm";
  const { status } = spawnSync(npm, ["ci", "--no-audit", "--no-fund", "--loglevel=error"], {
    cwd: root,
    stdio: ["ignore", 2, 2],
    shell: process.platform === "win32",
  });
  if (status !== 0) {
    console.error("npm ci failed; its message stands above.");
    process.exit(1);
  }
  writeFileSync(stamp, wanted);
}

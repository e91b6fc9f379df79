/** The suite that runs inside a real VS Code: on the desktop where that is possible, else in the server host. */

import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { dist } from "./bundle.mjs";
import { runInDesktop, whyNoDesktop } from "./hostDesktop.mjs";
import { temporaryFolder } from "./hostProcess.mjs";
import { runInServer } from "./hostServer.mjs";
import { root } from "./setup.mjs";

/**
 * How a run went. `host` tells what it ran in, in words; `fault` what went wrong beside failed tests, and counts as one.
 * @typedef {{ host: string, passed: number, failed: number, pending: number, fault: string, seconds: number }} Tally
 */

/**
 * Bundles a suite into one CommonJS file that exports `run`.
 * @param {string} source relative to the project
 * @param {string} name
 * @returns {Promise<string>} its path
 */
export async function bundleSuite(source, name) {
  const { build } = await import("esbuild");
  const outfile = join(dist, "host", `${name}.cjs`);
  await build({
    absWorkingDir: root,
    entryPoints: [source],
    outfile,
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node20",
    external: ["vscode", "mocha", "playwright-core", "axe-core", "esbuild", "esbuild-wasm"],
    sourcemap: "inline",
    logLevel: "warning",
  });
  return outfile;
}

/**
 * A copy of the samples to work on, as one of two folders of a workspace; the other is empty and has nothing installed.
 * @param {boolean} withSamples false: their folder is empty too, so that nothing of ours starts by itself
 * @returns {{ folder: string, workspace: string }}
 */
function layWorkspace(withSamples) {
  // VS Code names files by their real path; on some systems the temporary folder is a link.
  const folder = realpathSync(temporaryFolder("workspace"));
  mkdirSync(join(folder, "samples"));
  if (withSamples) cpSync(join(root, "samples"), join(folder, "samples"), { recursive: true });
  mkdirSync(join(folder, "fresh"));
  const workspace = join(folder, "tide-court.code-workspace");
  writeFileSync(workspace, JSON.stringify({ folders: [{ path: "samples" }, { path: "fresh" }] }));
  return { folder, workspace };
}

/**
 * Runs a suite in the first host that can.
 * @param {object} options
 * @param {string} options.suite path of the bundle
 * @param {string} options.extension folder of the extension under test
 * @param {string} [options.grep] only tests whose name contains it
 * @param {string} [options.wanted] `desktop` or `server`: that host and no other
 * @param {number} [options.seconds] the most that it may take
 * @param {boolean} [options.withSamples] false: the folder of the samples is empty
 * @param {{ width: number, height: number }} [options.window] of the server host, CSS pixels
 * @param {Record<string, unknown>} [options.settings] more settings of the server host's editor
 * @param {(line: string) => void} options.say
 * @returns {Promise<Tally & { figures: Record<string, unknown> }>}
 * @throws where no host started
 */
export async function runSuite(options) {
  const { grep = "", wanted, withSamples = true, say, ...forHost } = options;
  const reasons = [];
  for (const { name, whyNot, run } of hosts.filter((host) => !wanted || host.name === wanted)) {
    const reason = wanted ? "" : await whyNot();
    if (reason) {
      reasons.push(`${name} host: ${reason}`);
      continue;
    }
    say(`Starting the ${name} host…${reasons.length ? ` (${reasons.join("; ")})` : ""}`);
    const began = performance.now();
    const { folder, workspace } = layWorkspace(withSamples);
    const file = join(folder, "results.json");
    const env = {
      ANADEM_HOST_RESULTS: file,
      ANADEM_HOST_GREP: grep,
      ANADEM_SAMPLES: join(root, "samples"),
    };
    const log = hostLog(name, say);
    let ending = "";
    try {
      const status = await run({ seconds: 900, ...forHost, workspace, folder, env, say: log.write });
      if (status !== 0) ending = `it ended with ${status}`;
    } catch (error) {
      ending = error instanceof Error ? error.message : String(error);
    }
    const results = existsSync(file) ? JSON.parse(readFileSync(file, "utf8")) : undefined;
    rmSync(folder, { recursive: true, force: true });
    if (results === undefined) {
      reasons.push(`${name} host: did not start the suite: ${ending || "no reason given"}; see ${log.file}`);
      continue;
    }
    return tallyOf(results, ending, performance.now() - began);
  }
  throw new Error(`No VS Code could be started.\n${reasons.join("\n")}`);
}

/** Keeps all that a host says in a file; lines of the suite itself, which bear a mark, are said. */
function hostLog(name, say) {
  const folder = join(root, ".vscode-test");
  mkdirSync(folder, { recursive: true });
  const file = join(folder, `${name}.log`);
  writeFileSync(file, "");
  const mark = "anadem| ";
  let rest = "";
  const write = (text) => {
    appendFileSync(file, text);
    const lines = (rest + text).split(/\r?\n/);
    rest = lines.pop() ?? "";
    for (const line of lines) if (line.startsWith(mark)) say(line.slice(mark.length));
  };
  return { file, write };
}

/**
 * Counts what a run left. One that did not come to its end, tested nothing or ended badly without a failed test has
 * failed all the same.
 * @returns {Tally & { figures: Record<string, unknown> }}
 */
export function tallyOf({ host, passed, failed, pending, isEnded, figures }, ending, milliseconds) {
  const fault = !isEnded
    ? `it did not come to its end${ending && `: ${ending}`}`
    : passed + failed === 0
      ? "no test ran"
      : failed === 0
        ? ending
        : "";
  return {
    ...{ host, passed, pending, figures, fault },
    failed: failed + (fault ? 1 : 0),
    seconds: milliseconds / 1000,
  };
}

const hosts = [
  { name: "desktop", whyNot: whyNoDesktop, run: runInDesktop },
  { name: "server", whyNot: async () => "", run: runInServer },
];

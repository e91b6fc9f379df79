/**
 * `npm run test:host`: the suite inside a real VS Code, then the drive of the packaged extension through its window.
 * `-- suite` or `-- drive`: one of them; `--grep TEXT`: only tests whose name contains it; `--host desktop` or `server`:
 * the suite in that one; `--extension FOLDER`, `--vsix FILE`: this extension instead of a fresh one.
 */

import { pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { endOnInterrupt } from "./hostProcess.mjs";
import { ensurePackages } from "./setup.mjs";

/** @typedef {{ grep?: string, wanted?: string, extension?: string, vsix?: string }} Options */

/**
 * Runs the suite and says how it went; a host that did not start is a failure.
 * @param {Options} options
 */
export const testInHost = ({ grep, wanted, extension } = {}) =>
  told("suite in VS Code", async () => {
    const { bundleSuite, runSuite } = await import("./hostSuite.mjs");
    return runSuite({
      suite: await bundleSuite("test/host/suite/main.ts", "suite"),
      extension: extension ?? (await freshExtension()),
      ...{ grep, wanted, say },
    });
  });

/**
 * Drives the packaged extension and says how it went; a host that did not start is a failure.
 * @param {Options} options
 */
export const testByDrive = ({ grep, vsix } = {}) =>
  told("drive of the packaged extension", async () => {
    const { runDrive } = await import("./hostDrive.mjs");
    return runDrive({ vsix: vsix ?? (await freshPackage()), grep, say });
  });

async function freshExtension() {
  const { stageExtension } = await import("./stage.mjs");
  return stageExtension({ say });
}

async function freshPackage() {
  const { packageExtension } = await import("./package.mjs");
  return packageExtension({ say });
}

const say = (line) => console.log(line);

/**
 * @param {string} name
 * @param {() => Promise<import("./hostSuite.mjs").Tally>} run
 * @returns {Promise<{ passed: number, failed: number }>}
 */
async function told(name, run) {
  try {
    const { host, passed, failed, pending, fault, seconds } = await run();
    const counts = `${passed} passed, ${failed} failed${pending ? `, ${pending} left out` : ""}`;
    if (fault) say(`       ${name}: ${fault}`);
    say(`${failed ? "FAILED" : "ok    "} ${name}: ${counts}; ${host} (${seconds.toFixed(1)} s)`);
    return { passed, failed };
  } catch (error) {
    say(`FAILED ${name}: ${error instanceof Error ? error.message : error}`);
    return { passed: 0, failed: 1 };
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  ensurePackages(console.error);
  endOnInterrupt();
  const text = /** @type {const} */ ({ type: "string" });
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { grep: text, host: text, extension: text, vsix: text },
  });
  const options = { ...values, wanted: values.host };
  const tests = [
    { name: "suite", run: testInHost },
    { name: "drive", run: testByDrive },
  ];
  const chosen = tests.filter(({ name }) => positionals.length === 0 || positionals.includes(name));
  if (chosen.length === 0) {
    console.error(`Nothing to run: ${positionals.join(" ")}. There are: suite, drive.`);
    process.exit(1);
  }
  let failures = 0;
  for (const { run } of chosen) failures += (await run(options)).failed;
  process.exit(failures === 0 ? 0 : 1);
}

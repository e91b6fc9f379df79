/** The drive: the packaged extension, installed in a server host and used through its window as a person would. */

import { cpSync, mkdirSync, readFileSync, realpathSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { temporaryFolder, within } from "./hostProcess.mjs";
import { launchBrowser, startServer } from "./hostServer.mjs";
import { bundleSuite, tallyOf } from "./hostSuite.mjs";
import { root } from "./setup.mjs";

/** Where the pictures of the drive go. */
export const screenshots = join(root, ".vscode-test", "screenshots");

/**
 * Installs a packaged extension, opens a copy of the samples in Restricted Mode, and hands the browser to the drive.
 * @param {object} options
 * @param {string} options.vsix path of the packaged extension
 * @param {string} [options.grep] only tests whose name contains it
 * @param {number} [options.seconds] the most that it may take
 * @param {(line: string) => void} options.say
 * @returns {Promise<import("./hostSuite.mjs").Tally>}
 * @throws where the host or the browser does not start
 */
export async function runDrive({ vsix, grep, seconds = 900, say }) {
  const began = performance.now();
  const bundle = await bundleSuite("test/drive/main.ts", "drive");
  const folder = realpathSync(temporaryFolder("drive"));
  const workspace = join(folder, "samples");
  cpSync(join(root, "samples"), workspace, { recursive: true });
  rmSync(screenshots, { recursive: true, force: true });
  mkdirSync(screenshots, { recursive: true });
  say("Starting the server host…");
  const server = await startServer({ folder, isTrusted: false, vsix, say });
  let browser;
  try {
    browser = await launchBrowser(say);
    const results = join(folder, "results.json");
    const { run } = createRequire(import.meta.url)(bundle);
    const { address, pid } = server;
    const commandLine = join(root, "src", "tools", "anadem.mjs");
    const drive = run({
      address,
      commandLine,
      serverPid: pid,
      workspace,
      browser,
      screenshots,
      results,
      grep,
      say,
    });
    let ending = "";
    try {
      await within(seconds, "The drive", drive);
    } catch (error) {
      ending = error instanceof Error ? error.message : String(error);
    }
    return tallyOf(JSON.parse(readFileSync(results, "utf8")), ending, performance.now() - began);
  } finally {
    await browser?.close().catch(() => {});
    await server.end();
    rmSync(folder, { recursive: true, force: true });
  }
}

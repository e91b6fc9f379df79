/** The desktop host: a VS Code that is downloaded once, where that and a display can be had. */

import { mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { downloadAndUnzipVSCode } from "@vscode/test-electron";
import { findProgram } from "./hostInstall.mjs";
import { runGroup } from "./hostProcess.mjs";
import { quietSettings } from "./hostServer.mjs";
import { root } from "./setup.mjs";

const cache = join(root, ".vscode-test");
const downloads = "https://update.code.visualstudio.com/api/releases/stable";

/**
 * Why the desktop host cannot run here; an empty text where nothing speaks against it.
 * @returns {Promise<string>}
 */
export async function whyNoDesktop() {
  if (process.platform === "linux" && !display()) return "there is no display and no xvfb-run";
  if (isDownloaded()) return "";
  try {
    const answer = await fetch(downloads, { signal: AbortSignal.timeout(5000) });
    return answer.ok ? "" : `its download answers ${answer.status}`;
  } catch {
    return "its download cannot be reached";
  }
}

function isDownloaded() {
  try {
    return readdirSync(cache).some((name) => name.startsWith("vscode-"));
  } catch {
    return false;
  }
}

/** What a window needs on Linux: nothing more, or a program that makes a display. */
function display() {
  if (process.env.DISPLAY || process.env.WAYLAND_DISPLAY) return "given";
  return findProgram("xvfb-run");
}

/**
 * Runs a suite inside the extension host of the desktop VS Code.
 * @param {Parameters<import("./hostServer.mjs").runInServer>[0]} options
 * @returns {Promise<number>} the exit code of the suite
 */
export async function runInDesktop({ extension, suite, workspace, folder, env, seconds, say }) {
  const code = await downloadAndUnzipVSCode({ cachePath: cache });
  const userData = join(folder, "user-data");
  mkdirSync(join(userData, "User"), { recursive: true });
  writeFileSync(join(userData, "User", "settings.json"), JSON.stringify(quietSettings, null, 2));
  const args = [
    workspace,
    ...["--no-sandbox", "--disable-gpu-sandbox", "--disable-updates", "--disable-workspace-trust"],
    ...["--skip-welcome", "--skip-release-notes", "--disable-telemetry"],
    `--extensionDevelopmentPath=${extension}`,
    `--extensionTestsPath=${suite}`,
    `--user-data-dir=${userData}`,
    `--extensions-dir=${join(folder, "extensions")}`,
  ];
  const screen = process.platform === "linux" && display() !== "given" ? [findProgram("xvfb-run"), "-a"] : [];
  const [command, ...all] = [...screen, code, ...args];
  // A VS Code that this program was started from makes Electron run as plain Node.
  const { ELECTRON_RUN_AS_NODE: _, ...inherited } = process.env;
  const { status } = await runGroup(command, all, { env: { ...inherited, ...env }, seconds, say });
  return status ?? 1;
}

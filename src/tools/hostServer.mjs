/** The server host: a VS Code on a loopback port, and the browser that shows it. */

import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { format } from "node:util";
import { chromium } from "playwright-core";
import { ensureChromium, ensureServerHost, serverPrograms } from "./hostInstall.mjs";
import { endGroup, freePort, pause, runGroup, startGroup, within } from "./hostProcess.mjs";

/** A quiet editor: nothing that opens by itself, fetches or asks. */
export const quietSettings = {
  "chat.disableAIFeatures": true,
  "extensions.autoCheckUpdates": false,
  "extensions.autoUpdate": false,
  "extensions.ignoreRecommendations": true,
  // The server saves by itself otherwise, a second after each edit.
  "files.autoSave": "off",
  "git.enabled": false,
  "github.gitAuthentication": false,
  "security.workspace.trust.startupPrompt": "never",
  "telemetry.telemetryLevel": "off",
  "typescript.disableAutomaticTypeAcquisition": true,
  "update.mode": "none",
  "window.commandCenter": false,
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
};

/** Where the editor keeps the person's settings and extensions, below a temporary folder. */
function layProfile(folder, settings) {
  const profile = {
    config: join(folder, "empty.yaml"),
    extensions: join(folder, "extensions"),
    userData: join(folder, "user-data"),
  };
  const user = join(profile.userData, "User");
  mkdirSync(user, { recursive: true });
  mkdirSync(profile.extensions, { recursive: true });
  writeFileSync(profile.config, "");
  writeFileSync(join(user, "settings.json"), JSON.stringify({ ...quietSettings, ...settings }, null, 2));
  return profile;
}

/**
 * Starts a server host with a profile of its own.
 * @param {object} options
 * @param {string} options.folder a temporary folder for the profile
 * @param {boolean} options.isTrusted false: workspaces open in Restricted Mode
 * @param {string} [options.vsix] a packaged extension to be installed
 * @param {Record<string, unknown>} [options.settings]
 * @param {NodeJS.ProcessEnv} [options.env] more of the environment of extensions
 * @param {(text: string) => void} options.say
 */
export async function startServer({ folder, isTrusted, vsix, settings = {}, env = {}, say }) {
  await ensureServerHost(say);
  const { config, extensions, userData } = layProfile(folder, settings);
  const { node, entry } = serverPrograms();
  // An editor that this program was started from must not be taken for the one that it starts.
  const { VSCODE_IPC_HOOK_CLI: _, ...inherited } = process.env;
  // No gallery: nothing is looked up outside.
  const environment = { ...inherited, NODE_ENV: "production", EXTENSIONS_GALLERY: "{}", ...env };
  const profile = ["--config", config, "--extensions-dir", extensions, "--user-data-dir", userData];
  if (vsix) {
    const install = [entry, ...profile, "--install-extension", vsix, "--force"];
    const { status, output } = await runGroup(node, install, { env: environment, seconds: 90 });
    if (status !== 0 || !output.includes("successfully installed")) {
      throw new Error(`${vsix} could not be installed:\n${output}`);
    }
  }
  const port = await freePort();
  const address = `http://127.0.0.1:${port}`;
  let log = "";
  const server = startGroup(
    node,
    [
      ...[entry, ...profile, "--bind-addr", `127.0.0.1:${port}`, "--auth", "none"],
      ...["--disable-telemetry", "--disable-update-check", "--disable-getting-started-override"],
      // Without the driver a built editor takes no test from the address.
      ...["--disable-proxy", "--vscode-option", "enable-smoke-test-driver"],
      // On this machine's own loopback nothing is gained by packing what passes.
      ...["--vscode-option", "disable-websocket-compression"],
      ...(isTrusted ? ["--disable-workspace-trust"] : []),
    ],
    {
      env: environment,
      say: (text) => {
        log = (log + text).slice(-20_000);
      },
    },
  );
  server.on("error", (error) => {
    log += error.message;
  });
  const end = () => endGroup(server);
  for (let tries = 0; !(await isHealthy(address)); tries++) {
    if (server.exitCode !== null || tries > 300) {
      await end();
      throw new Error(`The server host did not start:\n${log}`);
    }
    await pause(100);
  }
  return { address, pid: server.pid, userData, end, log: () => log };
}

async function isHealthy(address) {
  try {
    return (await fetch(`${address}/healthz`, { signal: AbortSignal.timeout(2000) })).ok;
  } catch {
    return false;
  }
}

/**
 * Debian's Chromium without a window, with WebGL 2 drawn in software.
 * @param {(text: string) => void} say
 */
export async function launchBrowser(say) {
  return chromium.launch({
    executablePath: await ensureChromium(say),
    // Interrupts are this program's own to deal with.
    handleSIGINT: false,
    handleSIGTERM: false,
    handleSIGHUP: false,
    timeout: 60_000,
    args: [
      ...["--no-sandbox", "--disable-quic", "--no-first-run", "--disable-background-networking"],
      ...["--disable-component-update", "--disable-sync", "--disable-dev-shm-usage"],
      ...["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
      // Only WebGL goes that way: the page itself is drawn more cheaply without.
      "--disable-gpu-rasterization",
      "--disable-gpu-compositing",
    ],
  });
}

const usualWindow = { width: 1400, height: 900 };

/**
 * Runs a suite inside the extension host of a server host.
 * @param {object} options
 * @param {string} options.extension folder of the extension under test
 * @param {string} options.suite the bundled suite, a CommonJS file that exports `run`
 * @param {string} options.workspace a folder, or a `.code-workspace` file
 * @param {string} options.folder a temporary folder
 * @param {NodeJS.ProcessEnv} options.env
 * @param {number} options.seconds the most that the suite may take
 * @param {(text: string) => void} options.say told what the suite logs
 * @param {{ width: number, height: number }} [options.window] CSS pixels
 * @param {Record<string, unknown>} [options.settings] more settings of the editor
 * @returns {Promise<number>} the exit code of the suite
 */
export async function runInServer({
  extension,
  suite,
  workspace,
  folder,
  env,
  seconds,
  say,
  window = usualWindow,
  settings,
}) {
  const server = await startServer({ folder, isTrusted: true, env, settings, say });
  let browser;
  try {
    browser = await launchBrowser(say);
    const page = await browser.newPage({ viewport: window });
    await page.exposeFunction("codeAutomationLog", (_type, args) => say(`${format(...args)}\n`));
    const ended = new Promise((resolve, reject) => {
      page.exposeFunction("codeAutomationExit", (code) => resolve(Number(code)));
      page.on("crash", () => reject(new Error("The editor's page crashed.")));
    });
    const remote = (path) => `vscode-remote://${new URL(server.address).host}${path}`;
    const payload = [
      ["extensionDevelopmentPath", remote(extension)],
      ["extensionTestsPath", remote(suite)],
    ];
    await page.goto(pageAddress(server.address, workspace, payload), { timeout: 120_000 });
    return await within(seconds, "The suite", ended);
  } finally {
    await browser?.close().catch(() => {});
    await server.end();
  }
}

/**
 * The address that opens a folder or a `.code-workspace` file.
 * @param {string} address of the server
 * @param {string} workspace
 * @param {string[][]} [payload]
 */
export function pageAddress(address, workspace, payload) {
  const query = new URLSearchParams({
    [workspace.endsWith(".code-workspace") ? "workspace" : "folder"]: workspace,
  });
  if (payload) query.set("payload", JSON.stringify(payload));
  return `${address}/?${query}`;
}

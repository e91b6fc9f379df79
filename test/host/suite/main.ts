import * as vscode from "vscode";
import { runTests } from "../mochaRun";

/** What VS Code calls: runs the suite, and rejects when a test failed or there was none. */
export async function run(): Promise<void> {
  process.setSourceMapsEnabled(true);
  const kind = vscode.env.uiKind === vscode.UIKind.Desktop ? "desktop" : "server";
  const { passed, failed } = await runTests(
    {
      host: `${kind} host: ${vscode.env.appName}, VS Code ${vscode.version}, Node ${process.versions.node}`,
      file: process.env.ANADEM_HOST_RESULTS!,
      grep: process.env.ANADEM_HOST_GREP || undefined,
      // The editor logs on the same channel: the mark tells our lines from its own.
      say: (line) => console.log(`anadem| ${line}`),
    },
    async () => {
      await import("./manifest.suite");
      await import("./findings.suite");
      await import("./saves.suite");
      await import("./mishaps.suite");
      await import("./language.suite");
      await import("./around.suite");
      await import("./files.suite");
      await import("./preview.suite");
      await import("./plan.suite");
      await import("./cast.suite");
      await import("./versions.suite");
      await import("./refit.suite");
      await import("./measuring.suite");
    },
  );
  if (failed > 0 || passed === 0) throw new Error(`${passed} passed, ${failed} failed`);
}

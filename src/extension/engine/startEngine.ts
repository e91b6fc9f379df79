import { join } from "node:path";
import * as vscode from "vscode";
import { createEngineClient } from "../../build/service/engineClient";
import { EngineHost } from "./engineHost";

/** The person hears at most so often that the engine was lost, ms: one that keeps dying is one piece of news. */
const quiet = 60_000;

/** The engine of this window, from the files that come with the extension. No process starts before the first need. */
export function engineOfWindow(extension: vscode.Uri, log: vscode.LogOutputChannel): EngineHost {
  let lastTold = Number.NEGATIVE_INFINITY;
  return new EngineHost(() => createEngineClient({ script: join(extension.fsPath, "dist", "engine.cjs") }), {
    lost({ reason }) {
      if (performance.now() - lastTold < quiet) return;
      lastTold = performance.now();
      const show = vscode.l10n.t("Show Log");
      const said =
        reason === "hung"
          ? vscode.l10n.t("The engine stopped answering and was started again. The last good model is kept.")
          : vscode.l10n.t("The engine ended and was started again. The last good model is kept.");
      void vscode.window.showWarningMessage(said, show).then((answer) => {
        if (answer === show) log.show();
      });
    },
    log: (text) => log.info(text),
  });
}

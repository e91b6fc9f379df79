import { basename, dirname, join } from "node:path";
import * as vscode from "vscode";
import type { PreviewCommand } from "../../preview/protocol";
import type { WorkspaceDesigns } from "../builds/workspaceDesigns";
import { commandIds } from "../commandIds";
import { fileEndings } from "../designState";
import type { EngineHost } from "../engine/engineHost";
import { goTo } from "./goTo";
import { writeOrientationInto } from "./orientationFile";
import { writeParametersInto } from "./parameterFile";
import type { PanelDeeds } from "./previewPanel";

/** Commands of the editor behind those that a preview may ask for. The lock is the panel's own. */
const commandsOfPreview: Readonly<Record<Exclude<PreviewCommand, "toggleLock">, string>> = {
  build: commandIds.build,
  cancel: commandIds.cancelBuild,
  export: commandIds.export,
  chooseWearer: commandIds.chooseWearer,
  choosePrinter: commandIds.choosePrinter,
  chooseMaterial: commandIds.chooseMaterial,
  showProblems: "workbench.actions.view.problems",
  showReport: commandIds.showReport,
  manageTrust: "workbench.trust.manage",
  newDesign: commandIds.newDesign,
  compareWithCommit: commandIds.compareWithCommit,
  endComparison: commandIds.endComparison,
};

/** What previews ask for, done with the editor's means. */
export function previewDeeds(
  designs: WorkspaceDesigns,
  engine: EngineHost,
  log: vscode.LogOutputChannel,
): PanelDeeds {
  const told = (error: unknown) => log.error(error instanceof Error ? error : String(error));
  return {
    command(panel, command) {
      if (command === "toggleLock") {
        panel.isLocked = !panel.isLocked;
        return;
      }
      const id = commandsOfPreview[command];
      const isOurs = id.startsWith("anadem.");
      void vscode.commands
        .executeCommand(id, ...(isOurs && panel.design ? [panel.design] : []))
        .then(undefined, told);
    },
    goTo: (panel, place) => void goTo(place, panel.design).catch(told),
    writeValues: (design) => void writeParametersInto(design, designs).catch(told),
    useOrientation: (design, orientation) => void writeOrientationInto(design, orientation).catch(told),
    savePicture: (design, png) => void savePicture(design, png).catch(told),
    async sheet(design) {
      try {
        return await engine.client.sheet(designs.requestOf(design));
      } catch (error) {
        told(error);
        return undefined;
      }
    },
    log: (text) => log.warn(text),
  };
}

async function savePicture(design: vscode.Uri, png: ArrayBuffer): Promise<void> {
  const name = `${basename(design.fsPath, fileEndings.design)}.png`;
  const target = await vscode.window.showSaveDialog({
    defaultUri: vscode.Uri.file(join(dirname(design.fsPath), name)),
    filters: { [vscode.l10n.t("Picture")]: ["png"] },
    title: vscode.l10n.t("Save Picture"),
  });
  if (target) await vscode.workspace.fs.writeFile(target, new Uint8Array(png));
}

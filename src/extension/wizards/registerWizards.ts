import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import { showCode } from "../showCode";
import { workspaceFiles } from "../tree/workspaceFiles";
import { likelyFolders } from "./folders";

/** The commands that make a new design and a new wearer. They run nothing, so they work in Restricted Mode too. */
export function registerWizards(
  context: vscode.ExtensionContext,
  designs: Designs,
  actions: DesignActions,
): void {
  const folders = async () => {
    const found = await likelyFolders(workspaceFiles(context), designs.active);
    if (found.length === 0) void offerFolder();
    return found;
  };
  context.subscriptions.push(
    vscode.commands.registerCommand(commandIds.newWearer, async () => {
      const places = await folders();
      if (places.length === 0) return undefined;
      const { askNewWearer } = await import("./newWearer");
      const file = await askNewWearer(places);
      if (file) await showCode(file, { isKept: true });
      return file;
    }),
    vscode.commands.registerCommand(commandIds.newDesign, async () => {
      const places = await folders();
      if (places.length === 0) return undefined;
      const { askNewDesign } = await import("./newDesign");
      const design = await askNewDesign(places, workspaceFiles(context));
      if (!design) return undefined;
      await showCode(design, { isKept: true });
      await actions.showPreview(design);
      return design;
    }),
  );
}

async function offerFolder(): Promise<void> {
  const open = vscode.l10n.t("Open Folder");
  const answer = await vscode.window.showInformationMessage(
    vscode.l10n.t("Open a folder first: the new file needs a place."),
    open,
  );
  if (answer === open) await vscode.commands.executeCommand("vscode.openFolder");
}

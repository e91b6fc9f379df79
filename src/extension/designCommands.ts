import * as vscode from "vscode";
import { isDesign, type WorkspaceDesigns } from "./builds/workspaceDesigns";
import { commandIds } from "./commandIds";
import type { DesignActions } from "./designActions";
import type { PreviewPanels } from "./preview/previewPanels";

/** Registers the commands that do something with a design: the one given, of the focused preview, or the active one. */
export function registerDesignCommands(
  context: vscode.ExtensionContext,
  designs: WorkspaceDesigns,
  panels: PreviewPanels,
  actions: DesignActions,
): void {
  const command = (id: string, run: (design: vscode.Uri) => unknown) =>
    context.subscriptions.push(
      vscode.commands.registerCommand(id, async (given?: unknown) => {
        const design = designIn(given) ?? panels.focused?.design ?? designs.active;
        if (design && !isDesign(design)) tellUnsupported();
        else if (design) return await run(design);
        else void vscode.window.showInformationMessage(vscode.l10n.t("Open a headpiece design first."));
        return undefined;
      }),
    );
  const plain = (id: string, run: () => unknown) =>
    context.subscriptions.push(vscode.commands.registerCommand(id, run));

  command(commandIds.showPreview, (design) => actions.showPreview(design));
  command(commandIds.build, (design) => designs.build(design));
  command(commandIds.cancelBuild, (design) => designs.cancel(design));
  command(commandIds.export, (design) => actions.export(design));
  command(commandIds.showExported, (design) => actions.showExported(design));
  command(commandIds.keepReport, (design) => actions.keepReport(design));
  command(commandIds.writeParameters, (design) => actions.writeParameters(design));
  command(commandIds.resetParameters, (design) => actions.resetParameters(design));
  plain(commandIds.togglePreviewLock, () => toggleLock(panels));
  plain(commandIds.buildAll, () => buildAll(designs));
  plain(commandIds.restartEngine, () => actions.restartEngine());
  plain(commandIds.showLog, () => actions.showLog());
}

/** The design that a menu or a view hands over: its Uri, or an item that has one. Other Uris, as a preview's own, are none. */
function designIn(given: unknown): vscode.Uri | undefined {
  if (given instanceof vscode.Uri) return given.path.endsWith(".headpiece.ts") ? given : undefined;
  if (typeof given !== "object" || given === null) return undefined;
  const { uri, resourceUri, design } = given as Record<string, unknown>;
  return [uri, resourceUri, design].find(
    (each): each is vscode.Uri => each instanceof vscode.Uri && each.path.endsWith(".headpiece.ts"),
  );
}

const tellUnsupported = () =>
  void vscode.window.showInformationMessage(
    vscode.l10n.t("Only a design that is saved on disk, here or on the remote machine, can be built."),
  );

function toggleLock(panels: PreviewPanels): void {
  const panel = panels.focused ?? panels.all.find(({ panel: { visible } }) => visible);
  if (panel) panel.isLocked = !panel.isLocked;
}

/** Builds every design of the workspace, one after the other. */
async function buildAll(designs: WorkspaceDesigns): Promise<void> {
  const files = await vscode.workspace.findFiles("**/*.headpiece.ts", "**/node_modules/**");
  const sorted = files.filter(isDesign).sort((a, b) => a.path.localeCompare(b.path));
  await vscode.window.withProgress(
    {
      location: vscode.ProgressLocation.Notification,
      title: vscode.l10n.t("Building all headpieces"),
      cancellable: true,
    },
    async (progress, token) => {
      for (const [index, design] of sorted.entries()) {
        if (token.isCancellationRequested) return;
        const message = vscode.l10n.t("{0} of {1}", index + 1, sorted.length);
        progress.report({ message, increment: 100 / sorted.length });
        const stop = token.onCancellationRequested(() => designs.cancel(design));
        await designs.build(design);
        stop.dispose();
      }
    },
  );
}

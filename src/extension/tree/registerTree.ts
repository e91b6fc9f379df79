import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import type { Designs, PartyKind } from "../designState";
import { DesignsTree } from "./designsTree";
import { PartiesTree, type PartyNode } from "./partiesTree";
import { workspaceFiles } from "./workspaceFiles";

/** The views of the container: headpieces, wearers, printers, materials, print settings. */
export function registerTree(
  context: vscode.ExtensionContext,
  designs: Designs,
  _actions: DesignActions,
): void {
  const files = workspaceFiles(context);
  registerDesigns(context, designs, new DesignsTree(designs, files));
  const views: readonly (readonly [id: string, kind: PartyKind])[] = [
    ["anadem.wearers", "wearer"],
    ["anadem.printers", "printer"],
    ["anadem.materials", "material"],
    ["anadem.printSettings", "print"],
  ];
  for (const [id, kind] of views) {
    const tree = new PartiesTree(kind, designs, files);
    const view = vscode.window.createTreeView(id, { treeDataProvider: tree, showCollapseAll: false });
    context.subscriptions.push(tree, view);
  }
  context.subscriptions.push(
    vscode.commands.registerCommand(commandIds.useForDesign, async (node?: PartyNode) => {
      if (!node || !designs.active || !vscode.workspace.isTrusted) return;
      await designs.choose(designs.active, node.party, node.uri);
    }),
  );
}

function registerDesigns(context: vscode.ExtensionContext, designs: Designs, tree: DesignsTree): void {
  const view = vscode.window.createTreeView("anadem.headpieces", { treeDataProvider: tree });
  const tellFailed = () => {
    const { failed } = tree;
    const tooltip =
      failed === 1 ? vscode.l10n.t("1 headpiece in error") : vscode.l10n.t("{0} headpieces in error", failed);
    view.badge = failed > 0 ? { value: failed, tooltip } : undefined;
  };
  const tellTrust = () => {
    view.message = vscode.workspace.isTrusted
      ? undefined
      : vscode.l10n.t("Restricted Mode: nothing is built until you trust this folder.");
  };
  const showActive = async () => {
    const node = designs.active && tree.nodeOf(designs.active);
    // Only where the person looks at the view: revealing would open it.
    if (node && view.visible) await view.reveal(node, { select: true, focus: false });
  };
  tellTrust();
  context.subscriptions.push(
    tree,
    view,
    tree.onDidChangeTreeData(tellFailed),
    view.onDidChangeVisibility(showActive),
    designs.onDidChangeActive(showActive),
    vscode.workspace.onDidGrantWorkspaceTrust(tellTrust),
  );
}

import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings } from "../designState";
import { stemOf } from "../tree/labels";
import { workspaceFiles } from "../tree/workspaceFiles";
import { showDesignMenu } from "./designMenu";
import { statusLinks, statusText } from "./statusText";
import { designOf } from "./target";

/** The status bar's item for the active design, and the menu that it opens. */
export function registerStatusBar(
  context: vscode.ExtensionContext,
  designs: Designs,
  actions: DesignActions,
): void {
  const item = vscode.window.createStatusBarItem("design", vscode.StatusBarAlignment.Left, 50);
  item.name = vscode.l10n.t("Headpiece");
  item.command = commandIds.designActions;
  const show = () => {
    const { active } = designs;
    if (!active) return item.hide();
    const shown = statusText(
      stemOf(active.path, fileEndings.design),
      designs.state(active),
      vscode.workspace.isTrusted,
      vscode.l10n,
    );
    if (item.text !== shown.text) item.text = shown.text;
    const tooltip = new vscode.MarkdownString(shown.tooltip, true);
    tooltip.isTrusted = { enabledCommands: statusLinks };
    item.tooltip = tooltip;
    item.accessibilityInformation = { label: shown.spoken, role: "button" };
    item.backgroundColor = shown.isError ? new vscode.ThemeColor("statusBarItem.errorBackground") : undefined;
    item.show();
  };
  show();
  context.subscriptions.push(
    item,
    designs.onDidChangeActive(show),
    designs.onDidChange((design) => design.toString() === designs.active?.toString() && show()),
    vscode.workspace.onDidGrantWorkspaceTrust(show),
    vscode.commands.registerCommand(commandIds.designActions, async (argument?: unknown) => {
      const design = designOf(argument, designs, actions);
      if (design) await showDesignMenu(design, designs, actions, workspaceFiles(context));
    }),
  );
}

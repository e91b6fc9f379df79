import * as vscode from "vscode";
import type { WorkspaceDesigns } from "./builds/workspaceDesigns";
import type { PreviewPanels } from "./preview/previewPanels";
import type { WorkspaceComparisons } from "./versions/workspaceComparisons";

/** Keeps the context keys that the manifest's `when` clauses ask for; each is set only when it changes. */
export function keepContextKeys(
  context: vscode.ExtensionContext,
  designs: WorkspaceDesigns,
  panels: PreviewPanels,
  comparisons: WorkspaceComparisons,
): void {
  const last = new Map<string, boolean>();
  const set = (key: string, value: boolean) => {
    if (last.get(key) === value) return;
    last.set(key, value);
    void vscode.commands.executeCommand("setContext", `anadem.${key}`, value);
  };
  const update = () => {
    const focused = panels.focused;
    const design = focused?.design ?? designs.active;
    const state = design && designs.state(design);
    set("hasDesign", design !== undefined);
    set("isBuilding", state?.status === "building");
    set("hasMovedValues", state !== undefined && Object.keys(state.values).length > 0);
    set("isComparing", design !== undefined && comparisons.of(design) !== undefined);
    set("hasPreview", panels.all.length > 0);
    set("previewFocus", focused !== undefined);
    set("previewLocked", focused?.isLocked ?? false);
  };
  context.subscriptions.push(
    designs.onDidChange(update),
    designs.onDidChangeActive(update),
    panels.onDidChange(update),
    comparisons.onDidChange(update),
  );
  update();
}

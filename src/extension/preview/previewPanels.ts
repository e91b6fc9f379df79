import * as vscode from "vscode";
import { readKeptDesign } from "../../preview/protocolChecks";
import type { WorkspaceDesigns } from "../builds/workspaceDesigns";
import { isDesign } from "../builds/workspaceDesigns";
import type { WorkspaceComparisons } from "../versions/workspaceComparisons";
import { type PanelDeeds, PreviewPanel } from "./previewPanel";
import { previewType } from "./previewType";

/** All previews of a window: those that follow the active design and those that stay on one. */
export class PreviewPanels implements vscode.Disposable, vscode.WebviewPanelSerializer {
  readonly #extension: vscode.Uri;
  readonly #designs: WorkspaceDesigns;
  readonly #comparisons: WorkspaceComparisons;
  readonly #deeds: PanelDeeds;
  readonly #panels = new Set<PreviewPanel>();
  readonly #subscriptions: vscode.Disposable[];
  readonly #changed = new vscode.EventEmitter<void>();

  /** A panel came, went, got the focus, or was locked. */
  readonly onDidChange = this.#changed.event;

  constructor(
    extension: vscode.Uri,
    designs: WorkspaceDesigns,
    comparisons: WorkspaceComparisons,
    deeds: PanelDeeds,
  ) {
    this.#extension = extension;
    this.#designs = designs;
    this.#comparisons = comparisons;
    this.#deeds = deeds;
    this.#subscriptions = [
      vscode.window.registerWebviewPanelSerializer(previewType, this),
      designs.onDidChangeActive((design) => design && this.#follow(design)),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => {
        for (const panel of this.#panels) panel.followCursor(textEditor);
      }),
      vscode.workspace.onDidGrantWorkspaceTrust(() => {
        for (const panel of this.#panels) panel.refresh();
      }),
    ];
  }

  get all(): readonly PreviewPanel[] {
    return [...this.#panels];
  }

  /** The preview that is the active editor. */
  get focused(): PreviewPanel | undefined {
    return this.all.find(({ panel }) => panel.active);
  }

  /** Shows a design in a preview that has it, else in the one that follows, else in a new one beside the code. */
  show(design: vscode.Uri, isLocked: boolean): void {
    const same = this.all.find(
      (each) => each.design?.toString() === design.toString() && (!isLocked || each.isLocked),
    );
    const fitting = same ?? (isLocked ? undefined : this.all.find((each) => !each.isLocked));
    if (fitting) {
      fitting.show(design);
      fitting.panel.reveal(undefined, true);
      return;
    }
    const panel = vscode.window.createWebviewPanel(
      previewType,
      vscode.l10n.t("Headpiece"),
      { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
      { enableScripts: true },
    );
    this.#adopt(panel, isLocked).show(design);
  }

  async deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    const kept = readKeptDesign(state);
    const adopted = this.#adopt(panel, kept?.isLocked ?? false);
    const own = kept && parsed(kept.uri);
    const design = own && isDesign(own) ? own : this.#designs.active;
    if (design) adopted.show(design);
    if (own && own === design && kept.comparedWith !== undefined) {
      this.#comparisons.resume(own, kept.comparedWith);
    }
  }

  dispose(): void {
    for (const each of this.#subscriptions) each.dispose();
    for (const panel of this.#panels) panel.dispose();
    this.#changed.dispose();
  }

  #adopt(webviewPanel: vscode.WebviewPanel, isLocked: boolean): PreviewPanel {
    const around = { designs: this.#designs, comparisons: this.#comparisons, deeds: this.#deeds };
    const panel = new PreviewPanel(webviewPanel, this.#extension, around, isLocked);
    this.#panels.add(panel);
    panel.onDidChangeLock(() => this.#changed.fire());
    webviewPanel.onDidChangeViewState(() => this.#changed.fire());
    webviewPanel.onDidDispose(() => {
      this.#panels.delete(panel);
      panel.dispose();
      this.#changed.fire();
    });
    this.#changed.fire();
    return panel;
  }

  #follow(design: vscode.Uri): void {
    for (const panel of this.#panels) if (!panel.isLocked) panel.show(design);
  }
}

function parsed(uri: string): vscode.Uri | undefined {
  try {
    return vscode.Uri.parse(uri, true);
  } catch {
    return undefined;
  }
}

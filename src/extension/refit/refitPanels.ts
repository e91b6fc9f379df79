import * as vscode from "vscode";
import type { Scope } from "../../pages/refitTable/protocol";
import { readKeptTable } from "../../pages/refitTable/protocolChecks";
import { isDesign } from "../builds/workspaceDesigns";
import { RefitPanel, type RefitSetting } from "./refitPanel";

/** Kind of the webview panel, as the manifest names it. */
export const refitType = "anadem.refit";

/** The refit table of a window: there is one at most. */
export class RefitPanels implements vscode.Disposable, vscode.WebviewPanelSerializer {
  readonly #setting: RefitSetting;
  readonly #changed = new vscode.EventEmitter<void>();
  readonly #serializer: vscode.Disposable;
  #shown: RefitPanel | undefined;

  /** Rows, or how far they are, are other than before; or the table came or went. */
  readonly onDidChange = this.#changed.event;

  constructor(setting: RefitSetting) {
    this.#setting = setting;
    this.#serializer = vscode.window.registerWebviewPanelSerializer(refitType, this);
  }

  /** The table that is open. */
  get shown(): RefitPanel | undefined {
    return this.#shown;
  }

  /** Shows the table of a design; of all where there is none. */
  show(design: vscode.Uri | undefined): void {
    const scope: Scope = design ? "design" : "all";
    if (this.#shown) {
      this.#shown.show(scope, design);
      this.#shown.panel.reveal();
      return;
    }
    const panel = vscode.window.createWebviewPanel(
      refitType,
      vscode.l10n.t("Refit"),
      { viewColumn: vscode.ViewColumn.Active, preserveFocus: false },
      { enableScripts: true },
    );
    this.#adopt(panel, scope, design);
  }

  async deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    if (this.#shown) {
      panel.dispose();
      return;
    }
    const kept = readKeptTable(state);
    const own = kept?.design === undefined ? undefined : parsed(kept.design);
    const design = own && isDesign(own) ? own : this.#setting.designs.active;
    this.#adopt(panel, kept?.scope ?? (design ? "design" : "all"), design);
  }

  dispose(): void {
    this.#serializer.dispose();
    this.#shown?.dispose();
    this.#changed.dispose();
  }

  #adopt(webviewPanel: vscode.WebviewPanel, scope: Scope, design: vscode.Uri | undefined): void {
    const panel = new RefitPanel(webviewPanel, this.#setting, scope, design);
    this.#shown = panel;
    panel.onDidChange(() => this.#changed.fire());
    webviewPanel.onDidDispose(() => {
      panel.dispose();
      if (this.#shown === panel) this.#shown = undefined;
      this.#changed.fire();
    });
    this.#changed.fire();
  }
}

function parsed(uri: string): vscode.Uri | undefined {
  try {
    return vscode.Uri.parse(uri, true);
  } catch {
    return undefined;
  }
}

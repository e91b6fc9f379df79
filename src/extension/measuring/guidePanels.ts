import * as vscode from "vscode";
import { readKeptGuide } from "../../pages/measuringGuide/protocolChecks";
import { fileEndings } from "../designState";
import { type GuideDeeds, GuidePanel, type GuideSubject, keyOf } from "./guidePanel";

/** Kind of the webview panel, as the manifest names it. */
export const guideType = "anadem.measuring";

/** The measuring guides of a window, one a wearer. */
export class GuidePanels implements vscode.Disposable, vscode.WebviewPanelSerializer {
  readonly #extension: vscode.Uri;
  readonly #deeds: GuideDeeds;
  readonly #serializer: vscode.Disposable;
  readonly #panels = new Set<GuidePanel>();

  constructor(extension: vscode.Uri, deeds: GuideDeeds) {
    this.#extension = extension;
    this.#deeds = deeds;
    this.#serializer = vscode.window.registerWebviewPanelSerializer(guideType, this);
  }

  get all(): readonly GuidePanel[] {
    return [...this.#panels];
  }

  /** Shows the guide of a wearer, the one that is open where there is one. */
  show(subject: GuideSubject): void {
    const open = this.all.find(({ key }) => key === keyOf(subject));
    if (open) {
      open.panel.reveal();
      return;
    }
    const panel = vscode.window.createWebviewPanel(
      guideType,
      vscode.l10n.t("Measure"),
      { viewColumn: vscode.ViewColumn.Active, preserveFocus: false },
      { enableScripts: true },
    );
    this.#adopt(panel, subject);
  }

  /** A guide of a file comes back with what was typed; one of a wearer without a file as well. */
  async deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    const subject = subjectOf(readKeptGuide(state)?.key);
    if (subject) this.#adopt(panel, subject);
    else panel.dispose();
  }

  dispose(): void {
    this.#serializer.dispose();
    for (const { panel } of this.all) panel.dispose();
  }

  #adopt(webviewPanel: vscode.WebviewPanel, subject: GuideSubject): void {
    const guide = new GuidePanel(webviewPanel, this.#extension, subject, this.#deeds);
    this.#panels.add(guide);
    webviewPanel.onDidDispose(() => this.#panels.delete(guide));
  }
}

function subjectOf(key: string | undefined): GuideSubject | undefined {
  if (key?.startsWith("new:")) return { name: key.slice("new:".length), folders: [] };
  try {
    const file = key === undefined ? undefined : vscode.Uri.parse(key, true);
    return file?.path.endsWith(fileEndings.wearer) ? { file } : undefined;
  } catch {
    return undefined;
  }
}

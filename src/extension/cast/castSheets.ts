import { basename } from "node:path";
import * as vscode from "vscode";
import { type CastResult, nameOfCast, planCast } from "../../build/cast/planCast";
import type { CastReport } from "../../export/castReport";
import { castSheet } from "../../export/castSheet/castSheet";
import { setting } from "../settings/settings";
import type { CastProblems } from "./castProblems";
import { today } from "./castTarget";

const sheetType = "anadem.cast";

/** A cast whose sheet is shown. */
interface Shown {
  readonly file: vscode.Uri;
  readonly panel: vscode.WebviewPanel;
  inputs: ReadonlySet<string>;
}

/** Plans casts and shows their sheets, and plans again when a file that one depends on is saved. */
export class CastSheets implements vscode.Disposable {
  readonly #script: string;
  readonly #problems: CastProblems;
  readonly #shown = new Map<string, Shown>();
  /** Plans that go on, by cast. */
  readonly #going = new Map<string, AbortController>();
  readonly #saves: vscode.Disposable;

  constructor(script: string, problems: CastProblems) {
    this.#script = script;
    this.#problems = problems;
    this.#saves = vscode.workspace.onDidSaveTextDocument(({ uri }) => {
      for (const shown of [...this.#shown.values()]) {
        if (shown.inputs.has(uri.fsPath)) void this.#again(shown);
      }
    });
  }

  /** Plans a cast and shows its sheet; resolves to the plan, undefined where there is none. */
  async plan(file: vscode.Uri): Promise<CastReport | undefined> {
    const result = await this.#planned(file, vscode.ProgressLocation.Notification);
    if (!result) return undefined;
    if (result.report) {
      this.#show(file, result.report, result.inputs);
      return result.report;
    }
    const [first] = result.messages.filter(({ severity }) => severity === "error");
    const look = vscode.l10n.t("Show Problems");
    void vscode.window
      .showErrorMessage(
        vscode.l10n.t("The cast was not planned: {0}", first?.text ?? basename(file.fsPath)),
        look,
      )
      .then((answer) => {
        if (answer === look) void vscode.commands.executeCommand("workbench.actions.view.problems");
      });
    return undefined;
  }

  dispose(): void {
    this.#saves.dispose();
    for (const controller of this.#going.values()) controller.abort();
    for (const { panel } of [...this.#shown.values()]) panel.dispose();
  }

  /** Undefined where it was stopped, or a newer plan of the same cast has begun. */
  async #planned(file: vscode.Uri, location: vscode.ProgressLocation): Promise<CastResult | undefined> {
    const { fsPath } = file;
    this.#going.get(fsPath)?.abort();
    const controller = new AbortController();
    this.#going.set(fsPath, controller);
    try {
      const result = await vscode.window.withProgress(
        { location, title: vscode.l10n.t("Planning {0}", nameOfCast(fsPath)), cancellable: true },
        (progress, token) => {
          token.onCancellationRequested(() => controller.abort());
          let before = 0;
          const request = {
            file: fsPath,
            today: today(),
            timeLimitSeconds: setting("timeLimit", file),
            memoryLimitMB: setting("memoryLimit", file),
          };
          return planCast(request, this.#script, {
            signal: controller.signal,
            onProgress: (done, all) => {
              const share = (100 * done) / all;
              // A later round makes the whole greater: what was told is not taken back.
              progress.report({
                message: vscode.l10n.t("piece {0} of {1}", done, all),
                increment: Math.max(0, share - before),
              });
              before = Math.max(before, share);
            },
          });
        },
      );
      this.#problems.show(fsPath, result.messages);
      return result;
    } catch (error) {
      if (controller.signal.aborted) return undefined;
      const text = error instanceof Error ? error.message : String(error);
      void vscode.window.showErrorMessage(vscode.l10n.t("The cast was not planned: {0}", text));
      return undefined;
    } finally {
      if (this.#going.get(fsPath) === controller) this.#going.delete(fsPath);
    }
  }

  async #again({ file }: Shown): Promise<void> {
    const result = await this.#planned(file, vscode.ProgressLocation.Window);
    const shown = this.#shown.get(file.fsPath);
    // A cast that is wrong for a moment leaves its last sheet where it is.
    if (!result || !shown) return;
    shown.inputs = new Set([...result.inputs, ...(result.report ? [] : shown.inputs)]);
    if (result.report) fill(shown.panel, result.report);
  }

  #show(file: vscode.Uri, report: CastReport, inputs: readonly string[]): void {
    const known = this.#shown.get(file.fsPath);
    const panel = known?.panel ?? this.#open(file);
    fill(panel, report);
    if (known) {
      known.inputs = new Set(inputs);
      panel.reveal(undefined, true);
    } else this.#shown.set(file.fsPath, { file, panel, inputs: new Set(inputs) });
  }

  #open(file: vscode.Uri): vscode.WebviewPanel {
    const panel = vscode.window.createWebviewPanel(
      sheetType,
      nameOfCast(file.fsPath),
      { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
      { enableScripts: false, enableFindWidget: true, localResourceRoots: [] },
    );
    panel.onDidDispose(() => {
      this.#going.get(file.fsPath)?.abort();
      this.#shown.delete(file.fsPath);
    });
    return panel;
  }
}

function fill(panel: vscode.WebviewPanel, report: CastReport): void {
  panel.title = vscode.l10n.t("{0}: cast", report.production);
  panel.webview.html = castSheet(report);
}

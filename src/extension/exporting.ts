import { basename, join } from "node:path";
import * as vscode from "vscode";
import type { ExportOutcome, ExportRequest } from "../build/service/protocol";
import type { WorkspaceDesigns } from "./builds/workspaceDesigns";
import { fileEndings } from "./designState";
import type { Problems } from "./diagnostics/problems";
import type { EngineHost } from "./engine/engineHost";
import { outputFolderOf } from "./settings/settings";

/** Writes the files of designs, and remembers where they went. */
export class Exporting {
  readonly #designs: WorkspaceDesigns;
  readonly #engine: EngineHost;
  readonly #problems: Problems;
  readonly #log: vscode.LogOutputChannel;
  /** What the last export of a design wrote first, by design. */
  readonly #exported = new Map<string, vscode.Uri>();

  constructor(
    designs: WorkspaceDesigns,
    engine: EngineHost,
    problems: Problems,
    log: vscode.LogOutputChannel,
  ) {
    this.#designs = designs;
    this.#engine = engine;
    this.#problems = problems;
    this.#log = log;
  }

  /** Writes STL, report and drawing; resolves to the folder, undefined when nothing was written. */
  async export(design: vscode.Uri): Promise<vscode.Uri | undefined> {
    const outcome = await this.#run(design, vscode.l10n.t("Exporting {0}", basename(design.fsPath)), {});
    const first = outcome?.files[0];
    if (!first) return undefined;
    this.#exported.set(design.toString(), vscode.Uri.file(first.path));
    const folder = outputFolderOf(design);
    const show = vscode.l10n.t("Show Files");
    const said = vscode.l10n.t(
      "{0} files written to {1}",
      outcome.files.length,
      vscode.workspace.asRelativePath(folder),
    );
    void vscode.window.showInformationMessage(said, show).then((answer) => {
      if (answer === show) void this.showExported(design);
    });
    return vscode.Uri.file(folder);
  }

  /**
   * Writes the report that is kept beside the design for git, and nothing else: of the design as its file has it,
   * whatever was chosen or moved, so that the command line finds it the same.
   */
  async keepReport(design: vscode.Uri): Promise<vscode.Uri | undefined> {
    const title = vscode.l10n.t("Writing the report of {0}", basename(design.fsPath));
    const outcome = await this.#run(design, title, { committedReport: "alone" });
    const path = outcome?.files.find(({ kind }) => kind === "committed-report")?.path;
    return path === undefined ? undefined : vscode.Uri.file(path);
  }

  /**
   * Shows the files of the last export, also of one before the window was opened: in the system's file manager, or in
   * the explorer where that is far away.
   */
  async showExported(design: vscode.Uri): Promise<void> {
    const file = this.#exported.get(design.toString()) ?? (await lastStlOf(design));
    if (!file) {
      const make = vscode.l10n.t("Export");
      const said = vscode.l10n.t("{0} has not been exported yet.", basename(design.fsPath));
      if ((await vscode.window.showInformationMessage(said, make)) === make) await this.export(design);
      return;
    }
    const isFar = vscode.env.uiKind === vscode.UIKind.Web || vscode.env.remoteName !== undefined;
    await vscode.commands.executeCommand(isFar ? "revealInExplorer" : "revealFileInOS", file);
  }

  async #run(
    design: vscode.Uri,
    title: string,
    options: Pick<ExportRequest, "committedReport">,
  ): Promise<ExportOutcome | undefined> {
    // Files are made from files: what is typed and not saved has no part in them.
    const { texts: _, ...asShown } = this.#designs.requestOf(design);
    const { wearer: _w, printer: _p, material: _m, print: _s, values: _v, ...asWritten } = asShown;
    const asked = options.committedReport === "alone" ? asWritten : asShown;
    const request = { ...asked, folder: outputFolderOf(design), ...options };
    try {
      const outcome = await vscode.window.withProgress(
        { location: vscode.ProgressLocation.Notification, title, cancellable: true },
        (_progress, token) => {
          const abort = new AbortController();
          token.onCancellationRequested(() => abort.abort());
          return this.#engine.client.export(request, abort.signal);
        },
      );
      if (outcome.ok) return outcome;
      this.#problems.show(design.fsPath, outcome.messages);
      await this.#tellRefused(design, outcome.messages.find(({ severity }) => severity === "error")?.text);
    } catch (error) {
      if (error instanceof Error && error.name === "AbortError") return undefined;
      this.#log.error(error instanceof Error ? error : String(error));
      await this.#tellRefused(design, error instanceof Error ? error.message : String(error));
    }
    return undefined;
  }

  async #tellRefused(design: vscode.Uri, why: string | undefined): Promise<void> {
    const show = vscode.l10n.t("Show Problems");
    const said = why
      ? vscode.l10n.t("{0} was not written: {1}", basename(design.fsPath), why)
      : vscode.l10n.t("{0} was not written", basename(design.fsPath));
    void vscode.window.showWarningMessage(said, show).then((answer) => {
      if (answer === show) void vscode.commands.executeCommand("workbench.actions.view.problems");
    });
  }
}

/** The STL that a design was exported to, where it is still there. */
async function lastStlOf(design: vscode.Uri): Promise<vscode.Uri | undefined> {
  const name = basename(design.fsPath, fileEndings.design);
  const file = vscode.Uri.file(join(outputFolderOf(design), `${name}.stl`));
  return vscode.workspace.fs.stat(file).then(
    () => file,
    () => undefined,
  );
}

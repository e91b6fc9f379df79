import * as vscode from "vscode";
import type { RefitRow } from "../../build/refit/refitRow";
import { refit } from "../../build/refit/refitting";
import type { Designs } from "../designState";
import { outputFolderOf } from "../settings/settings";
import type { DesignPlan } from "./knownRows";
import { refitAll, requestsOf } from "./refitRequests";
import { termsOf } from "./refitSubject";

/** Writes the files of all rows that pass into the output folder, and says how many; the person may stop it. */
export async function exportRefit(
  plans: readonly DesignPlan[],
  designs: Designs,
  script: string,
  processes: number,
): Promise<void> {
  const { l10n, window } = vscode;
  const requests = requestsOf(plans, (design) => ({
    ...termsOf(design, designs, undefined),
    folder: outputFolderOf(vscode.Uri.file(design)),
  }));
  let rows: readonly RefitRow[];
  try {
    rows = await window.withProgress(
      {
        location: vscode.ProgressLocation.Notification,
        title: l10n.t("Exporting what passes"),
        cancellable: true,
      },
      async (progress, token) => {
        const abort = new AbortController();
        token.onCancellationRequested(() => abort.abort());
        let before = 0;
        const table = await refitAll(
          requests,
          (request, events) => refit({ ...request, processes }, script, events),
          {
            signal: abort.signal,
            onProgress: (done, all) => {
              progress.report({
                message: l10n.t("{0} of {1}", done, all),
                increment: (100 * (done - before)) / Math.max(1, all),
              });
              before = done;
            },
          },
        );
        return table.rows;
      },
    );
  } catch (error) {
    if (error instanceof Error && error.name === "AbortError") return;
    throw error;
  }
  await tellWritten(rows);
}

async function tellWritten(rows: readonly RefitRow[]): Promise<void> {
  const { l10n, window, workspace } = vscode;
  const written = rows.filter(({ files }) => files.length > 0);
  const left = rows.length - written.length;
  const [file] = written.flatMap(({ files }) => files);
  if (file === undefined) {
    void window.showWarningMessage(l10n.t("Nothing was written: none of {0} rows passes.", rows.length));
    return;
  }
  const folder = outputFolderOf(vscode.Uri.file(written[0].design));
  const said =
    left === 0
      ? l10n.t("All {0} rows were written to {1}", rows.length, workspace.asRelativePath(folder))
      : l10n.t(
          "{0} of {1} rows were written to {2}; {3} do not pass",
          written.length,
          rows.length,
          workspace.asRelativePath(folder),
          left,
        );
  const show = l10n.t("Show Files");
  if ((await window.showInformationMessage(said, show)) !== show) return;
  const isFar = vscode.env.uiKind === vscode.UIKind.Web || vscode.env.remoteName !== undefined;
  await vscode.commands.executeCommand(isFar ? "revealInExplorer" : "revealFileInOS", vscode.Uri.file(file));
}

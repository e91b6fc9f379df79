import { basename } from "node:path";
import * as vscode from "vscode";
import { isDesign, type WorkspaceDesigns } from "../builds/workspaceDesigns";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import { designOf } from "../statusBar/target";
import { pickCommit } from "./pickCommit";
import { gitOfWindow, type WorkspaceComparisons } from "./workspaceComparisons";

/** A design beside its version in a commit: the commands. */
export function registerVersions(
  context: vscode.ExtensionContext,
  designs: WorkspaceDesigns,
  actions: DesignActions,
  comparisons: WorkspaceComparisons,
): void {
  const { l10n } = vscode;
  const command = (id: string, run: (design: vscode.Uri, given: unknown) => unknown) =>
    context.subscriptions.push(
      vscode.commands.registerCommand(id, (argument?: unknown, given?: unknown) => {
        const design = designOf(argument, designs, actions);
        if (design && isDesign(design)) return run(design, given);
        void vscode.window.showInformationMessage(l10n.t("Open a headpiece design first."));
        return undefined;
      }),
    );

  /** `given`: the revision, where it is known already. */
  command(commandIds.compareWithCommit, async (design, given) => {
    if (!vscode.workspace.isTrusted) {
      void vscode.window.showInformationMessage(
        l10n.t("A design is a program: in Restricted Mode nothing is run, and so nothing is compared."),
      );
      return;
    }
    const isKnown = typeof given === "string" && given !== "";
    const { inputs } = designs.record(design);
    const revision = isKnown ? given : await pickCommit(design, inputs, gitOfWindow());
    if (revision === undefined) return;
    await actions.showPreview(design);
    await compare(design, revision, actions, comparisons);
  });
  command(commandIds.endComparison, (design) => comparisons.end(design));
}

async function compare(
  design: vscode.Uri,
  revision: string,
  actions: DesignActions,
  comparisons: WorkspaceComparisons,
): Promise<void> {
  const { l10n } = vscode;
  const name = basename(design.fsPath);
  const outcome = await vscode.window.withProgress(
    {
      location: vscode.ProgressLocation.Notification,
      title: l10n.t("Comparing {0} with {1}", name, revision),
      cancellable: true,
    },
    async (progress, token) => {
      const stop = token.onCancellationRequested(() => comparisons.end(design));
      const telling = comparisons.onDidChange((path) => {
        const stage = path === design.fsPath ? comparisons.of(design)?.stage : undefined;
        if (stage !== undefined) progress.report({ message: stage });
      });
      try {
        return await comparisons.compare(design, revision);
      } finally {
        stop.dispose();
        telling.dispose();
      }
    },
  );
  if (!outcome || outcome.result) return;
  const error = outcome.messages.find(({ severity }) => severity === "error") ?? outcome.messages[0];
  const show = l10n.t("Show Log");
  const said = error
    ? l10n.t(
        "{0} was not compared with {1}: {2}",
        name,
        revision,
        [error.text, error.suggestion].join(" ").trim(),
      )
    : l10n.t("{0} was not compared with {1}.", name, revision);
  void vscode.window.showWarningMessage(said, show).then((answer) => {
    if (answer === show) actions.showLog();
  });
}

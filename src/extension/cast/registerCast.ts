import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import type { Jobs } from "../jobs";
import { CastProblems } from "./castProblems";
import { CastSheets } from "./castSheets";
import { castOf } from "./castTarget";

/** The plan of a cast: the command that makes it and shows its sheet, and what is wrong with casts as they are typed. */
export function registerCast(
  context: vscode.ExtensionContext,
  _designs: Designs,
  _actions: DesignActions,
  jobs: Jobs,
): void {
  const problems = new CastProblems(context.extensionUri);
  const sheets = new CastSheets(jobs.script, problems);
  context.subscriptions.push(
    problems,
    sheets,
    vscode.commands.registerCommand(commandIds.planCast, async (argument?: unknown) => {
      // To plan is to run the designs.
      if (!vscode.workspace.isTrusted) {
        void vscode.window.showInformationMessage(
          vscode.l10n.t("Restricted Mode: nothing is built or planned until you trust this folder."),
        );
        return undefined;
      }
      const file = await castOf(argument);
      if (!file) return undefined;
      const document = vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === file.toString());
      if (document?.isDirty) await document.save();
      return sheets.plan(file);
    }),
  );
}

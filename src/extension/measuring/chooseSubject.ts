import { posix } from "node:path";
import * as vscode from "vscode";
import { fileEndings } from "../designState";
import { stemOf } from "../tree/labels";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import type { GuideSubject } from "./guidePanel";

/** Asks whom to measure: one of the wearers of the workspace, or somebody new; undefined where the person gave up. */
export async function chooseSubject(
  files: WorkspaceFiles,
  folders: () => Promise<readonly vscode.Uri[]>,
): Promise<GuideSubject | undefined> {
  const wearers = await files.list("wearer");
  const newItem = { label: vscode.l10n.t("$(add) New wearer…"), description: "", file: undefined };
  const items = wearers.map((file) => ({
    label: stemOf(file.path, fileEndings.wearer),
    description: posix.dirname(vscode.workspace.asRelativePath(file)).replace(/^\.$/, ""),
    file,
  }));
  const picked =
    items.length === 0
      ? newItem
      : await vscode.window.showQuickPick([newItem, ...items], {
          placeHolder: vscode.l10n.t("Who is measured?"),
          matchOnDescription: true,
        });
  if (!picked) return undefined;
  if (picked.file) return { file: picked.file };
  const name = await vscode.window.showInputBox({
    prompt: vscode.l10n.t("The wearer's name, as it is to stand in reports: of the person or of the part."),
    placeHolder: vscode.l10n.t("Maris, the Kelp Queen"),
    ignoreFocusOut: true,
    validateInput: (text) => (text.trim() === "" ? vscode.l10n.t("Give a name.") : undefined),
  });
  return name === undefined ? undefined : { name: name.trim(), folders: await folders() };
}

import { basename } from "node:path";
import * as vscode from "vscode";
import { applyChanges } from "../applyChanges";
import type { WorkspaceDesigns } from "../builds/workspaceDesigns";
import { writeParameters } from "./parameterWriter";

/**
 * Writes the moved parameters of a design into its file, as one edit that can be undone. The file is then saved, unless
 * the person has other changes in it that they did not save. Resolves to whether all were written.
 */
export async function writeParametersInto(design: vscode.Uri, designs: WorkspaceDesigns): Promise<boolean> {
  const { values, header } = designs.state(design);
  if (Object.keys(values).length === 0) return true;
  const document = await vscode.workspace.openTextDocument(design);
  const text = document.getText();
  const { changes, refusals } = writeParameters(text, values, header?.parameters ?? [], vscode.l10n);
  if (changes.length > 0) {
    const wasDirty = document.isDirty;
    if (!(await applyChanges(document, changes))) return false;
    if (!wasDirty) await document.save();
  }
  if (refusals.length === 0) return true;
  const reasons = refusals.map(({ reason }) => reason).join("; ");
  void vscode.window.showWarningMessage(
    vscode.l10n.t("Not all values were written into {0}: {1}", basename(design.fsPath), reasons),
  );
  return false;
}

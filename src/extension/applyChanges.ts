import * as vscode from "vscode";
import type { TextChange } from "./textChange";

/** Changes a document as one edit that can be undone. Resolves to whether it was done. */
export async function applyChanges(
  document: vscode.TextDocument,
  changes: readonly TextChange[],
): Promise<boolean> {
  const edit = new vscode.WorkspaceEdit();
  for (const { start, end, text } of changes) {
    edit.replace(document.uri, new vscode.Range(document.positionAt(start), document.positionAt(end)), text);
  }
  return await vscode.workspace.applyEdit(edit);
}

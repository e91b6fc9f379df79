import * as vscode from "vscode";
import { previewType } from "./preview/previewType";

/**
 * Shows a file in the editor that has it, else where the code is: never over a preview.
 * @param options `near`: where that file is, if anywhere, this one goes too. `isKept`: the next file that is looked at
 * does not take its tab
 */
export async function showCode(
  file: vscode.Uri,
  { near, isKept }: { readonly near?: vscode.Uri | undefined; readonly isKept?: boolean } = {},
): Promise<vscode.TextEditor> {
  const document = await vscode.workspace.openTextDocument(file);
  return vscode.window.showTextDocument(document, {
    viewColumn: columnFor(file, near),
    ...(isKept && { preview: false }),
  });
}

function columnFor(file: vscode.Uri, near: vscode.Uri | undefined): vscode.ViewColumn {
  const columnOf = (wanted: vscode.Uri | undefined) =>
    vscode.window.visibleTextEditors.find(
      ({ document, viewColumn }) =>
        viewColumn !== undefined && document.uri.toString() === wanted?.toString(),
    )?.viewColumn;
  const { all, activeTabGroup } = vscode.window.tabGroups;
  const free = [activeTabGroup, ...all].find((group) => !showsPreview(group));
  return columnOf(file) ?? columnOf(near) ?? free?.viewColumn ?? vscode.ViewColumn.Beside;
}

/** The editor puts a word of its own before the type of a view. */
const showsPreview = ({ activeTab }: vscode.TabGroup): boolean =>
  activeTab?.input instanceof vscode.TabInputWebview && activeTab.input.viewType.endsWith(previewType);

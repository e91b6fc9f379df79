import * as vscode from "vscode";
import type { Place } from "../../message";
import type { PreviewPanel } from "./previewPanel";

/** Shows a place in the editor that has the file, else where the code is: never over the preview. */
export async function goTo(place: Place, from?: PreviewPanel): Promise<void> {
  const uri = vscode.Uri.file(place.file);
  const document = await vscode.workspace.openTextDocument(uri);
  const start = document.validatePosition(new vscode.Position(place.line - 1, place.column - 1));
  const editor = await vscode.window.showTextDocument(document, {
    viewColumn: columnFor(uri, from),
    preserveFocus: false,
  });
  editor.selection = new vscode.Selection(start, start);
  editor.revealRange(new vscode.Range(start, start), vscode.TextEditorRevealType.InCenterIfOutsideViewport);
}

function columnFor(uri: vscode.Uri, from: PreviewPanel | undefined): vscode.ViewColumn {
  const editors = vscode.window.visibleTextEditors.filter(({ viewColumn }) => viewColumn !== undefined);
  const has = (wanted: vscode.Uri | undefined) =>
    editors.find(({ document }) => document.uri.toString() === wanted?.toString())?.viewColumn;
  const previewColumn = from?.panel.viewColumn;
  const elsewhere = editors.find(({ viewColumn }) => viewColumn !== previewColumn)?.viewColumn;
  const beside = previewColumn === vscode.ViewColumn.One ? vscode.ViewColumn.Beside : vscode.ViewColumn.One;
  return has(uri) ?? has(from?.design) ?? elsewhere ?? beside;
}

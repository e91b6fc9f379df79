import * as vscode from "vscode";
import type { Place } from "../../message";
import { showCode } from "../showCode";

/** Shows a place in its file. @param from the design from whose preview it is asked for */
export async function goTo(place: Place, from?: vscode.Uri): Promise<void> {
  const editor = await showCode(vscode.Uri.file(place.file), { near: from });
  const start = editor.document.validatePosition(new vscode.Position(place.line - 1, place.column - 1));
  editor.selection = new vscode.Selection(start, start);
  editor.revealRange(new vscode.Range(start, start), vscode.TextEditorRevealType.InCenterIfOutsideViewport);
}

import * as vscode from "vscode";
import type { Place } from "../../message";

/** The range of a place in its file, the start of the file where only that is known. */
export function rangeOf({ line = 1, column = 1, length = 0 }: Partial<Place>): vscode.Range {
  const start = new vscode.Position(Math.max(0, line - 1), Math.max(0, column - 1));
  return new vscode.Range(start, start.translate(0, length));
}

/** A command that opens a file at a place in it. */
export const openingAt = (file: vscode.Uri, place?: Partial<Place>): vscode.Command => ({
  command: "vscode.open",
  title: vscode.l10n.t("Open"),
  arguments: place?.line === undefined ? [file] : [file, { selection: rangeOf(place) }],
});

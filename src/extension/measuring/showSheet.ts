import { mkdtemp } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import * as vscode from "vscode";
import { readDataText } from "../../build/dataFile";
import { placeFiles } from "../../build/placeFiles";
import { measuresInText } from "../../build/takeReadings";
import { meanHead } from "../../export/measuring/meanHead";
import { composeMeasuringReport } from "../../export/measuring/measuringReport";
import { measuringSheet } from "../../export/measuring/measuringSheet";
import { fileEndings } from "../designState";
import { stemOf } from "../tree/labels";

/** Name of a blank sheet. */
const blank = "measuring-sheet";

/** The measuring sheet of a wearer, blank without one, as the text of an HTML page. */
export async function sheetText(file: vscode.Uri | undefined): Promise<string> {
  if (!file) return measuringSheet({ form: meanHead() });
  const text = (await vscode.workspace.openTextDocument(file)).getText();
  const { value: wearer } = readDataText(text, file.fsPath, "wearer");
  const { units, taken } = measuresInText(text);
  const name = wearer?.name ?? stemOf(file.path, fileEndings.wearer);
  return measuringSheet({
    form: meanHead(),
    report: composeMeasuringReport(name, units, taken, wearer?.estimated ?? []),
    ...(wearer?.notes !== undefined && { notes: wearer.notes }),
  });
}

/**
 * Opens the sheet for printing: in the browser where the window and the extension share a machine, else as a file that
 * the person saves.
 */
export async function showSheet(file: vscode.Uri | undefined): Promise<vscode.Uri | undefined> {
  const text = await sheetText(file);
  const name = file ? `${stemOf(file.path, fileEndings.wearer)}.${blank}.html` : `${blank}.html`;
  if (vscode.env.remoteName === undefined && vscode.env.uiKind === vscode.UIKind.Desktop) {
    const path = join(await mkdtemp(join(tmpdir(), "anadem-")), name);
    await placeFiles([{ path, content: text }]);
    const page = vscode.Uri.file(path);
    if (await vscode.env.openExternal(page)) return page;
  }
  return saveSheet(text, name, file);
}

async function saveSheet(
  text: string,
  name: string,
  file: vscode.Uri | undefined,
): Promise<vscode.Uri | undefined> {
  const folder = file
    ? vscode.Uri.joinPath(file, "..")
    : (vscode.workspace.workspaceFolders?.[0]?.uri ?? undefined);
  const target = await vscode.window.showSaveDialog({
    title: vscode.l10n.t("Save the measuring sheet; a browser prints it"),
    filters: { HTML: ["html"] },
    ...(folder && { defaultUri: vscode.Uri.joinPath(folder, name) }),
  });
  if (!target) return undefined;
  await vscode.workspace.fs.writeFile(target, new TextEncoder().encode(text));
  void vscode.window.showInformationMessage(
    vscode.l10n.t("The measuring sheet is saved as {0}: open it in a browser to print it.", name),
  );
  return target;
}

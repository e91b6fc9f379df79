import { basename, dirname, join } from "node:path";
import * as vscode from "vscode";
import { castEnding } from "../../build/cast/castFiles";
import { startingCast } from "../../build/cast/startingCast";
import { MessageError } from "../../message";
import { showCode } from "../showCode";

export const isCast = ({ scheme, path }: vscode.Uri): boolean =>
  scheme === "file" && path.endsWith(castEnding);

/** Today as the clock on the wall has it, in days as in `print/schedule/calendar.ts`. */
export function today(now = new Date()): number {
  return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86_400_000;
}

/** The cast that a command is about: its argument, else the one being edited, else the only one, else one that is picked. */
export async function castOf(argument: unknown): Promise<vscode.Uri | undefined> {
  if (argument instanceof vscode.Uri && isCast(argument)) return argument;
  const edited = vscode.window.activeTextEditor?.document.uri;
  if (edited && isCast(edited)) return edited;
  const found = await vscode.workspace.findFiles(
    `**/*${castEnding}`,
    "**/{node_modules,.git,.vscode-test}/**",
  );
  if (found.length === 1) return found[0];
  if (found.length === 0) {
    void offerNew(edited);
    return undefined;
  }
  const sorted = found.sort((a, b) => (a.path < b.path ? -1 : 1));
  const items = sorted.map((uri) => ({
    label: basename(uri.path).slice(0, -castEnding.length),
    description: vscode.workspace.asRelativePath(uri),
    uri,
  }));
  const picked = await vscode.window.showQuickPick(items, { placeHolder: vscode.l10n.t("Which cast?") });
  return picked?.uri;
}

/** Offers to begin a cast, beside the file that is edited or at the top of the folder. */
async function offerNew(edited: vscode.Uri | undefined): Promise<void> {
  const begin = vscode.l10n.t("Begin a Cast");
  const answer = await vscode.window.showInformationMessage(
    vscode.l10n.t(
      "There is no cast here: a file NAME{0} that says who wears what, and when it opens.",
      castEnding,
    ),
    begin,
  );
  if (answer !== begin) return;
  const folder =
    edited?.scheme === "file" ? dirname(edited.fsPath) : vscode.workspace.workspaceFolders?.[0]?.uri.fsPath;
  if (folder === undefined) return;
  const name = basename(folder);
  const file = vscode.Uri.file(join(folder, `${name}${castEnding}`));
  try {
    await vscode.workspace.fs.writeFile(file, new TextEncoder().encode(startingCast(folder, name, today())));
    await showCode(file, { isKept: true });
  } catch (error) {
    const [message] = error instanceof MessageError ? error.messages : [];
    const text = message ? [message.text, message.suggestion].filter(Boolean).join(": ") : String(error);
    void vscode.window.showErrorMessage(text);
  }
}

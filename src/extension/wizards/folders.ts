import { posix } from "node:path";
import * as vscode from "vscode";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import { type Answer, askPick, back, type Frame } from "./steps";

/** Folders where a new file may go: those of the workspace, and those that hold designs or wearers; the likeliest first. */
export async function likelyFolders(
  files: WorkspaceFiles,
  active: vscode.Uri | undefined,
): Promise<vscode.Uri[]> {
  const folderOf = (file: vscode.Uri) => file.with({ path: posix.dirname(file.path) });
  const designs = await files.list("design");
  const wearers = await files.list("wearer");
  const folders = [
    ...(active && vscode.workspace.getWorkspaceFolder(active) ? [folderOf(active)] : []),
    ...(vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri),
    ...[...designs, ...wearers].map(folderOf),
  ];
  return [...new Map(folders.map((folder) => [folder.toString(), folder])).values()];
}

/** Asks for one of the folders. */
export async function askFolder(
  frame: Frame,
  folders: readonly vscode.Uri[],
  current: vscode.Uri | undefined,
): Promise<Answer<vscode.Uri>> {
  const isMultiRoot = (vscode.workspace.workspaceFolders?.length ?? 0) > 1;
  const items = folders.map((folder) => {
    const root = vscode.workspace.getWorkspaceFolder(folder);
    const isRoot = root?.uri.toString() === folder.toString();
    return {
      label: isRoot ? root.name : vscode.workspace.asRelativePath(folder, isMultiRoot),
      description: isRoot ? vscode.l10n.t("workspace folder") : "",
      iconPath: vscode.ThemeIcon.Folder,
      folder,
    };
  });
  const picked = await askPick(frame, {
    placeholder: vscode.l10n.t("In which folder?"),
    items,
    current: items.find(({ folder }) => folder.toString() === current?.toString()),
  });
  return picked === back || picked === undefined ? picked : picked.folder;
}

/** Names in a folder; none where it cannot be read. */
export async function namesIn(folder: vscode.Uri): Promise<ReadonlySet<string>> {
  try {
    const entries = await vscode.workspace.fs.readDirectory(folder);
    // Some disks take names that differ by case only for the same.
    return new Set(entries.map(([name]) => name.toLowerCase()));
  } catch {
    return new Set();
  }
}

/** Makes files, all or none of them, never over existing ones; says so where that failed. */
export async function makeFiles(
  files: readonly { readonly uri: vscode.Uri; readonly content: string }[],
): Promise<boolean> {
  const edit = new vscode.WorkspaceEdit();
  for (const { uri, content } of files) {
    edit.createFile(uri, { contents: new TextEncoder().encode(content), overwrite: false });
  }
  const isDone = await vscode.workspace.applyEdit(edit);
  if (!isDone) {
    const names = files.map(({ uri }) => posix.basename(uri.path)).join(", ");
    void vscode.window.showErrorMessage(
      vscode.l10n.t(
        "{0} could not be written: a file of that name is there, or the folder allows no writing.",
        names,
      ),
    );
  }
  return isDone;
}

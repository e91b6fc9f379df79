import * as vscode from "vscode";
import { distinctLabels } from "./labels";

/** A workspace folder as a row over its files, where there is more than one. */
export interface FolderNode {
  readonly kind: "folder";
  readonly folder: vscode.WorkspaceFolder;
}

/** Files with labels that tell them apart, by workspace folder. */
export interface FolderGroup {
  readonly node: FolderNode;
  readonly files: readonly { readonly uri: vscode.Uri; readonly label: string }[];
}

/** Groups files by workspace folder; folders without any are left out. */
export function folderGroups(files: readonly vscode.Uri[], ending: string): FolderGroup[] {
  return (vscode.workspace.workspaceFolders ?? []).flatMap((folder) => {
    const own = files.filter((file) => vscode.workspace.getWorkspaceFolder(file)?.index === folder.index);
    const labels = distinctLabels(
      own.map((file) => file.path.slice(folder.uri.path.length)),
      ending,
    );
    const node = { kind: "folder", folder } as const;
    return own.length === 0 ? [] : [{ node, files: own.map((uri, i) => ({ uri, label: labels[i] })) }];
  });
}

export const isMultiRoot = (): boolean => (vscode.workspace.workspaceFolders?.length ?? 0) > 1;

export function folderItem({ folder }: FolderNode): vscode.TreeItem {
  const item = new vscode.TreeItem(folder.name, vscode.TreeItemCollapsibleState.Expanded);
  item.id = `folder ${folder.uri}`;
  item.iconPath = vscode.ThemeIcon.Folder;
  item.contextValue = "folder";
  return item;
}

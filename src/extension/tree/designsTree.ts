import * as vscode from "vscode";
import type { Message } from "../../message";
import { type Designs, fileEndings } from "../designState";
import { type DesignRow, designRow, isFinding } from "./designRow";
import { type FolderNode, folderGroups, folderItem, isMultiRoot } from "./folderGroups";
import { openingAt } from "./places";
import type { WorkspaceFiles } from "./workspaceFiles";

interface DesignNode {
  readonly kind: "design";
  readonly uri: vscode.Uri;
  readonly label: string;
  readonly parent?: FolderNode;
}

interface FindingNode {
  readonly kind: "finding";
  readonly message: Message;
  readonly parent: DesignNode;
}

export type DesignsNode = FolderNode | DesignNode | FindingNode;

/** Findings listed below a design; Problems has all. */
const mostFindings = 20;
/** A build tells its progress more often than a row needs to be drawn, ms. */
const pause = 100;

/** The headpieces of the workspace and how each stands. */
export class DesignsTree implements vscode.TreeDataProvider<DesignsNode>, vscode.Disposable {
  readonly #changed = new vscode.EventEmitter<DesignsNode | undefined>();
  readonly onDidChangeTreeData = this.#changed.event;
  readonly #designs: Designs;
  readonly #files: WorkspaceFiles;
  readonly #nodes = new Map<string, DesignNode>();
  /** What each row showed last: rows that look the same are not drawn again. */
  readonly #shown = new Map<string, string>();
  readonly #due = new Map<string, vscode.Uri>();
  #timer: NodeJS.Timeout | undefined;
  readonly #listening: vscode.Disposable[];

  constructor(designs: Designs, files: WorkspaceFiles) {
    this.#designs = designs;
    this.#files = files;
    this.#listening = [
      this.#changed,
      designs.onDidChange((uri) => this.#changeLater(uri)),
      files.onDidChange((kind) => kind === "design" && this.#changed.fire(undefined)),
    ];
  }

  async getChildren(node?: DesignsNode): Promise<DesignsNode[]> {
    if (node?.kind === "design") return this.#findings(node);
    if (node?.kind === "finding") return [];
    const groups = folderGroups(await this.#files.list("design"), fileEndings.design);
    if (!node) {
      this.#nodes.clear();
      for (const { node: parent, files } of groups) {
        for (const file of files) {
          const design: DesignNode = { kind: "design", ...file, ...(isMultiRoot() && { parent }) };
          this.#nodes.set(file.uri.toString(), design);
        }
      }
      if (isMultiRoot()) return groups.map((group) => group.node);
    }
    return [...this.#nodes.values()].filter(
      ({ parent }) => parent?.folder.uri.toString() === node?.folder.uri.toString(),
    );
  }

  getParent(node: DesignsNode): DesignsNode | undefined {
    return node.kind === "folder" ? undefined : node.parent;
  }

  getTreeItem(node: DesignsNode): vscode.TreeItem {
    if (node.kind === "folder") return folderItem(node);
    return node.kind === "design" ? this.#designItem(node) : findingItem(node);
  }

  /** The row of a design, where it is listed. */
  nodeOf(design: vscode.Uri): DesignsNode | undefined {
    return this.#nodes.get(design.toString());
  }

  /** How many of the designs listed are in error. */
  get failed(): number {
    return [...this.#nodes.values()].filter(({ uri }) => this.#designs.state(uri).status === "failed").length;
  }

  dispose(): void {
    clearTimeout(this.#timer);
    for (const one of this.#listening) one.dispose();
  }

  #designItem({ uri, label }: DesignNode): vscode.TreeItem {
    const state = this.#designs.state(uri);
    const row = designRow(state, vscode.l10n);
    this.#shown.set(uri.toString(), signature(row, state.messages));
    const item = new vscode.TreeItem(
      label,
      row.hasFindings ? vscode.TreeItemCollapsibleState.Collapsed : vscode.TreeItemCollapsibleState.None,
    );
    item.id = uri.toString();
    item.resourceUri = uri;
    item.iconPath = new vscode.ThemeIcon(
      row.icon,
      row.colour ? new vscode.ThemeColor(row.colour) : undefined,
    );
    item.description = row.description;
    item.tooltip = new vscode.MarkdownString(row.tooltip);
    item.contextValue = `headpiece.${row.state}`;
    item.accessibilityInformation = { label: `${label}, ${row.spoken}`, role: "treeitem" };
    item.command = openingAt(uri);
    return item;
  }

  #findings(parent: DesignNode): FindingNode[] {
    const { messages } = this.#designs.state(parent.uri);
    return messages
      .filter(isFinding)
      .slice(0, mostFindings)
      .map((message) => ({ kind: "finding", message, parent }));
  }

  #changeLater(uri: vscode.Uri): void {
    this.#due.set(uri.toString(), uri);
    this.#timer ??= setTimeout(() => {
      this.#timer = undefined;
      for (const key of this.#due.keys()) this.#changeNow(key);
      this.#due.clear();
    }, pause);
  }

  #changeNow(key: string): void {
    const node = this.#nodes.get(key);
    if (!node) return;
    const state = this.#designs.state(node.uri);
    const row = designRow(state, vscode.l10n);
    if (this.#shown.get(key) !== signature(row, state.messages)) this.#changed.fire(node);
  }
}

const signature = (row: DesignRow, messages: readonly Message[]): string => JSON.stringify([row, messages]);

function findingItem({ message, parent }: FindingNode): vscode.TreeItem {
  const item = new vscode.TreeItem(message.text);
  const isError = message.severity === "error";
  item.iconPath = new vscode.ThemeIcon(
    isError ? "error" : "warning",
    new vscode.ThemeColor(isError ? "list.errorForeground" : "list.warningForeground"),
  );
  item.description = message.part;
  item.tooltip = [message.text, message.suggestion].filter((text) => text !== undefined).join("\n\n");
  item.contextValue = "finding";
  item.command = openingAt(message.file ? vscode.Uri.file(message.file) : parent.uri, message);
  return item;
}

import * as vscode from "vscode";
import { type Designs, fileEndings, type PartyKind } from "../designState";
import { markdownRows, plainMarkdown } from "../markdownText";
import { type FolderNode, folderGroups, folderItem, isMultiRoot } from "./folderGroups";
import { stemOf } from "./labels";
import { fileInUse, readParty } from "./parties";
import type { PartySummary } from "./partyFile";
import { openingAt } from "./places";
import type { WorkspaceFiles } from "./workspaceFiles";

/** A file of a wearer, printer, material or print settings as a row; `uri` and `party` are what commands take. */
export interface PartyNode {
  readonly kind: "party";
  readonly party: PartyKind;
  readonly uri: vscode.Uri;
  readonly label: string;
}

/** A design below the file that it uses. */
interface UserNode {
  readonly kind: "user";
  readonly uri: vscode.Uri;
}

export type PartiesNode = FolderNode | PartyNode | UserNode;

const icons: Readonly<Record<PartyKind, string>> = {
  wearer: "account",
  printer: "package",
  material: "symbol-color",
  print: "settings",
};

/** The wearers, printers, materials or print settings of the workspace, and which designs use each. */
export class PartiesTree implements vscode.TreeDataProvider<PartiesNode>, vscode.Disposable {
  readonly #changed = new vscode.EventEmitter<undefined>();
  readonly onDidChangeTreeData = this.#changed.event;
  readonly #kind: PartyKind;
  readonly #designs: Designs;
  readonly #files: WorkspaceFiles;
  /** Designs by the file that they use. */
  #users = new Map<string, vscode.Uri[]>();
  #usedNow = "";
  /** The file that each design used when it was looked at last. */
  readonly #fileByDesign = new Map<string, string | undefined>();
  readonly #listening: vscode.Disposable[];

  constructor(kind: PartyKind, designs: Designs, files: WorkspaceFiles) {
    this.#kind = kind;
    this.#designs = designs;
    this.#files = files;
    const changed = () => this.#changed.fire(undefined);
    this.#listening = [
      this.#changed,
      files.onDidChange((which) => (which === kind || which === "design") && changed()),
      designs.onDidChangeActive(changed),
      designs.onDidChange((design) => this.#useChanged(design)),
    ];
  }

  async getChildren(node?: PartiesNode): Promise<PartiesNode[]> {
    if (node?.kind === "party") {
      const users = this.#users.get(node.uri.toString()) ?? [];
      return users.map((uri) => ({ kind: "user", uri }));
    }
    if (node?.kind === "user") return [];
    if (!node) await this.#findUsers();
    const groups = folderGroups(await this.#files.list(this.#kind), fileEndings[this.#kind]);
    if (!node && isMultiRoot()) return groups.map((group) => group.node);
    const wanted = node ? groups.filter((group) => group.node.folder.index === node.folder.index) : groups;
    return wanted.flatMap(({ files }) =>
      files.map((file) => ({ kind: "party" as const, party: this.#kind, ...file })),
    );
  }

  async getTreeItem(node: PartiesNode): Promise<vscode.TreeItem> {
    if (node.kind === "folder") return folderItem(node);
    if (node.kind === "user") return userItem(node);
    const summary = await readParty(this.#kind, node.uri, this.#files);
    return partyItem(node, summary, {
      hasUsers: this.#users.has(node.uri.toString()),
      isInUse: this.#usedNow === node.uri.toString(),
    });
  }

  dispose(): void {
    for (const one of this.#listening) one.dispose();
  }

  async #findUsers(): Promise<void> {
    const users = new Map<string, vscode.Uri[]>();
    for (const design of await this.#files.list("design")) {
      const file = await this.#fileOf(design);
      if (file) users.set(file, [...(users.get(file) ?? []), design]);
    }
    this.#users = users;
    const { active } = this.#designs;
    this.#usedNow = (active && (await this.#fileOf(active))) ?? "";
  }

  async #fileOf(design: vscode.Uri): Promise<string | undefined> {
    const file = (await fileInUse(this.#designs.state(design), this.#kind, this.#files))?.toString();
    this.#fileByDesign.set(design.toString(), file);
    return file;
  }

  async #useChanged(design: vscode.Uri): Promise<void> {
    const before = this.#fileByDesign.get(design.toString());
    if ((await this.#fileOf(design)) !== before) this.#changed.fire(undefined);
  }
}

function partyItem(
  node: PartyNode,
  { name, detail, facts, error, warnings }: PartySummary,
  { hasUsers, isInUse }: { readonly hasUsers: boolean; readonly isInUse: boolean },
): vscode.TreeItem {
  const { party, uri, label } = node;
  const item = new vscode.TreeItem(
    name ?? label,
    hasUsers ? vscode.TreeItemCollapsibleState.Collapsed : vscode.TreeItemCollapsibleState.None,
  );
  item.id = uri.toString();
  item.resourceUri = uri;
  item.command = openingAt(uri, error);
  item.description = isInUse ? vscode.l10n.t("{0} · in use", detail) : detail;
  const told = error ? [error.text, error.suggestion ?? ""] : warnings.map(({ text }) => text);
  item.tooltip = new vscode.MarkdownString(
    [`**${plainMarkdown(name ?? label)}**`, markdownRows(facts), ...told.map(plainMarkdown)].join("\n\n"),
  );
  if (error) {
    item.iconPath = new vscode.ThemeIcon("error", new vscode.ThemeColor("list.errorForeground"));
    item.contextValue = `${party}.broken`;
  } else {
    item.iconPath = new vscode.ThemeIcon(icons[party]);
    item.contextValue = isInUse ? `${party}.inUse` : party;
  }
  item.accessibilityInformation = { label: `${name ?? label}, ${item.description}`, role: "treeitem" };
  return item;
}

function userItem({ uri }: UserNode): vscode.TreeItem {
  const item = new vscode.TreeItem(stemOf(uri.path, fileEndings.design));
  item.iconPath = new vscode.ThemeIcon("symbol-misc");
  item.tooltip = vscode.workspace.asRelativePath(uri);
  item.contextValue = "headpiece.user";
  item.command = openingAt(uri);
  return item;
}

import { dirname, sep } from "node:path";
import * as vscode from "vscode";
import type { Builds } from "./builds";
import { FileStamps } from "./fileStamps";
import type { Rebuilding } from "./rebuilding";

/** All that a design may read. */
const readable = "**/*.{ts,mts,cts,js,mjs,cjs,json}";

/** Tells the builds of files that change: those saved or typed in the editor, and those changed behind its back. */
export class Watching implements vscode.Disposable {
  readonly #builds: Builds;
  readonly #rebuilding: Rebuilding;
  readonly #stamps = new FileStamps();
  /** Watchers of folders that lie outside the workspace, by folder. */
  readonly #outside = new Map<string, vscode.Disposable>();
  readonly #subscriptions: vscode.Disposable[];

  constructor(builds: Builds, rebuilding: Rebuilding) {
    this.#builds = builds;
    this.#rebuilding = rebuilding;
    this.#subscriptions = [
      vscode.workspace.onWillSaveTextDocument(({ document }) => {
        const { uri } = document;
        if (uri.scheme !== "file") return;
        this.#stamps.expect(uri.fsPath);
        rebuilding.saving(uri.fsPath, () => document.getText());
      }),
      vscode.workspace.onDidSaveTextDocument(({ uri }) => {
        if (uri.scheme !== "file") return;
        this.#stamps.see(uri.fsPath);
        rebuilding.saved(uri.fsPath);
      }),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (document.uri.scheme === "file" && contentChanges.length > 0)
          rebuilding.typed(document.uri.fsPath);
      }),
      this.#watch(readable),
      this.#watchFolders(),
    ];
  }

  /** Watches what a design was found to depend on, where the workspace's own watcher does not see it. */
  follow(inputs: Iterable<string>): void {
    for (const file of inputs) {
      const folder = dirname(file);
      if (this.#outside.has(folder) || vscode.workspace.getWorkspaceFolder(vscode.Uri.file(file))) continue;
      this.#outside.set(folder, this.#watch(new vscode.RelativePattern(vscode.Uri.file(folder), "*")));
    }
  }

  dispose(): void {
    for (const each of [...this.#subscriptions, ...this.#outside.values()]) each.dispose();
  }

  /** A folder that goes tells nothing of the files in it. */
  #watchFolders(): vscode.Disposable {
    const watcher = vscode.workspace.createFileSystemWatcher("**", true, true, false);
    watcher.onDidDelete(({ fsPath }) => {
      const within = fsPath + sep;
      for (const file of new Set(this.#builds.records.flatMap(({ inputs }) => [...inputs]))) {
        if (file.startsWith(within)) this.#rebuilding.changedOutside(file, "deleted");
      }
    });
    return watcher;
  }

  #watch(pattern: vscode.GlobPattern): vscode.Disposable {
    const watcher = vscode.workspace.createFileSystemWatcher(pattern);
    const isUsed = ({ fsPath }: vscode.Uri) => this.#builds.using(fsPath).length > 0;
    const changed = async (uri: vscode.Uri) => {
      if (isUsed(uri) && (await this.#stamps.isNews(uri.fsPath))) {
        this.#rebuilding.changedOutside(uri.fsPath, "changed");
      }
    };
    watcher.onDidChange(changed);
    watcher.onDidCreate(changed);
    watcher.onDidDelete(async (uri) => {
      if (!isUsed(uri)) return;
      await this.#stamps.isNews(uri.fsPath);
      this.#rebuilding.changedOutside(uri.fsPath, "deleted");
    });
    return watcher;
  }
}

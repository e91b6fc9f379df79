import { dirname, sep } from "node:path";
import * as vscode from "vscode";
import { FileStamps } from "../builds/fileStamps";

/** All that a design may read. */
const readable = "**/*.{ts,mts,cts,js,mjs,cjs,json}";
const isOfNobody = /[\\/](?:node_modules|\.git|\.vscode-test)[\\/]/;

/** Tells of files that are saved, come or go: in the editor and behind its back. What is typed and not saved is no change. */
export class RefitWatcher implements vscode.Disposable {
  readonly #changed: (path: string, isOther: boolean) => void;
  readonly #inputs: () => Iterable<string>;
  readonly #stamps = new FileStamps();
  /** Watchers of folders that lie outside the workspace, by folder. */
  readonly #outside = new Map<string, vscode.Disposable>();
  readonly #subscriptions: vscode.Disposable[];

  /**
   * @param changed `isOther`: the file came or went
   * @param inputs what rows were found to depend on
   */
  constructor(changed: (path: string, isOther: boolean) => void, inputs: () => Iterable<string>) {
    this.#changed = changed;
    this.#inputs = inputs;
    const { workspace } = vscode;
    const folders = workspace.createFileSystemWatcher("**", true, true, false);
    this.#subscriptions = [
      workspace.onWillSaveTextDocument(({ document: { uri } }) => {
        if (uri.scheme === "file") this.#stamps.expect(uri.fsPath);
      }),
      workspace.onDidSaveTextDocument(({ uri }) => {
        if (uri.scheme !== "file") return;
        this.#stamps.see(uri.fsPath);
        changed(uri.fsPath, false);
      }),
      this.#watch(readable),
      folders,
      // A folder that goes tells nothing of the files in it.
      folders.onDidDelete(({ fsPath }) => {
        const within = fsPath + sep;
        for (const file of new Set(inputs())) if (file.startsWith(within)) changed(file, true);
      }),
    ];
  }

  /** Watches what rows were found to depend on, where the workspace's own watcher does not see it. */
  follow(): void {
    for (const file of new Set(this.#inputs())) {
      const folder = dirname(file);
      if (this.#outside.has(folder) || vscode.workspace.getWorkspaceFolder(vscode.Uri.file(file))) continue;
      this.#outside.set(folder, this.#watch(new vscode.RelativePattern(vscode.Uri.file(folder), "*")));
    }
  }

  dispose(): void {
    for (const each of [...this.#subscriptions, ...this.#outside.values()]) each.dispose();
  }

  #watch(pattern: vscode.GlobPattern): vscode.Disposable {
    const watcher = vscode.workspace.createFileSystemWatcher(pattern);
    const heard = (isOther: boolean) => async (uri: vscode.Uri) => {
      if (isOfNobody.test(uri.fsPath)) return;
      if (await this.#stamps.isNews(uri.fsPath)) this.#changed(uri.fsPath, isOther);
    };
    watcher.onDidChange(heard(false));
    watcher.onDidCreate(heard(true));
    watcher.onDidDelete(heard(true));
    return watcher;
  }
}

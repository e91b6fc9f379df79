import * as vscode from "vscode";
import { fileEndings } from "../designState";

export type FileKind = keyof typeof fileEndings;

const kinds = Object.keys(fileEndings) as FileKind[];
/** Folders that hold nothing a person wrote. */
const excluded = "**/{node_modules,.git,.vscode-test}/**";
const isExcluded = (path: string) => /\/(?:node_modules|\.git|\.vscode-test)\//.test(path);

/** The designs, wearers, printers, materials and print settings of all workspace folders, kept fresh. */
export class WorkspaceFiles implements vscode.Disposable {
  readonly #changed = new vscode.EventEmitter<FileKind>();
  /** Files of this kind came, went or changed. */
  readonly onDidChange = this.#changed.event;
  readonly #lists = new Map<FileKind, Promise<readonly vscode.Uri[]>>();
  readonly #texts = new Map<string, Promise<string>>();
  readonly #watching: vscode.Disposable[] = [this.#changed];

  constructor() {
    const { workspace } = vscode;
    const forgetAll = () => {
      for (const kind of kinds) this.#forget(kind);
    };
    for (const kind of kinds) {
      const watcher = workspace.createFileSystemWatcher(`**/*${fileEndings[kind]}`);
      const listChanged = (uri: vscode.Uri) => !isExcluded(uri.path) && this.#forget(kind, uri);
      this.#watching.push(
        watcher,
        watcher.onDidCreate(listChanged),
        watcher.onDidDelete(listChanged),
        watcher.onDidChange((uri) => !isExcluded(uri.path) && this.#textChanged(kind, uri)),
      );
    }
    // A folder that goes tells nothing of the files in it.
    const folders = workspace.createFileSystemWatcher("**", true, true, false);
    this.#watching.push(
      folders,
      folders.onDidDelete((uri) => this.#folderGone(uri)),
      workspace.onDidChangeWorkspaceFolders(forgetAll),
    );
  }

  /** All files of a kind, by path. */
  list(kind: FileKind): Promise<readonly vscode.Uri[]> {
    let list = this.#lists.get(kind);
    if (!list) {
      list = find(kind);
      this.#lists.set(kind, list);
      // A failed search must not be the answer for ever.
      list.catch(() => this.#lists.delete(kind));
    }
    return list;
  }

  /** What a file holds on disk. Rejects where it cannot be read. */
  text(file: vscode.Uri): Promise<string> {
    const key = file.toString();
    let text = this.#texts.get(key);
    if (!text) {
      text = readText(file);
      this.#texts.set(key, text);
      text.catch(() => this.#texts.delete(key));
    }
    return text;
  }

  dispose(): void {
    for (const one of this.#watching) one.dispose();
  }

  #textChanged(kind: FileKind, file: vscode.Uri): void {
    this.#texts.delete(file.toString());
    this.#changed.fire(kind);
  }

  #forget(kind: FileKind, file?: vscode.Uri): void {
    this.#lists.delete(kind);
    if (file) this.#texts.delete(file.toString());
    else this.#texts.clear();
    this.#changed.fire(kind);
  }

  async #folderGone(folder: vscode.Uri): Promise<void> {
    const inside = `${folder.path}/`;
    for (const [kind, list] of [...this.#lists]) {
      const files = await list.catch(() => []);
      if (files.some(({ path }) => path.startsWith(inside))) this.#forget(kind);
    }
  }
}

async function find(kind: FileKind): Promise<readonly vscode.Uri[]> {
  const files = await vscode.workspace.findFiles(`**/*${fileEndings[kind]}`, excluded);
  return files.sort((a, b) => (a.path < b.path ? -1 : Number(a.path > b.path)));
}

const readText = async (file: vscode.Uri): Promise<string> =>
  new TextDecoder().decode(await vscode.workspace.fs.readFile(file));

const ofWindow = new WeakMap<vscode.ExtensionContext, WorkspaceFiles>();

/** The files of this window: one that all share, watching from its first use on. */
export function workspaceFiles(context: vscode.ExtensionContext): WorkspaceFiles {
  let files = ofWindow.get(context);
  if (!files) {
    files = new WorkspaceFiles();
    ofWindow.set(context, files);
    context.subscriptions.push(files);
  }
  return files;
}

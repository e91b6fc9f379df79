import * as vscode from "vscode";
import { readCast } from "../../build/cast/readCast";
import type { Message } from "../../message";
import { Problems } from "../diagnostics/problems";
import { isCast } from "./castTarget";

/** Typing rests this long before the file is read, ms. */
const pause = 250;

/** What is wrong with casts that are open, as they are typed, and what their last plan found. */
export class CastProblems implements vscode.Disposable {
  readonly #problems: Problems;
  readonly #timers = new Map<string, NodeJS.Timeout>();
  readonly #subscriptions: vscode.Disposable[];

  constructor(extension: vscode.Uri) {
    this.#problems = new Problems(extension, "anadem-cast");
    this.#subscriptions = [
      this.#problems,
      vscode.workspace.onDidOpenTextDocument((document) => this.#read(document)),
      vscode.workspace.onDidChangeTextDocument(({ document, contentChanges }) => {
        if (contentChanges.length > 0) this.#readSoon(document);
      }),
      vscode.workspace.onDidCloseTextDocument(({ uri }) => {
        if (isCast(uri)) this.show(uri.fsPath, []);
      }),
    ];
    for (const document of vscode.workspace.textDocuments) this.#read(document);
  }

  /** What was found in a cast, in place of what was found before. */
  show(file: string, messages: readonly Message[]): void {
    clearTimeout(this.#timers.get(file));
    this.#problems.show(file, messages);
  }

  dispose(): void {
    for (const timer of this.#timers.values()) clearTimeout(timer);
    for (const each of this.#subscriptions) each.dispose();
  }

  #readSoon(document: vscode.TextDocument): void {
    if (!isCast(document.uri)) return;
    const { fsPath } = document.uri;
    clearTimeout(this.#timers.get(fsPath));
    this.#timers.set(
      fsPath,
      setTimeout(() => this.#read(document), pause),
    );
  }

  #read(document: vscode.TextDocument): void {
    if (!isCast(document.uri) || document.isClosed) return;
    const { fsPath } = document.uri;
    this.show(fsPath, readCast(fsPath, { [fsPath]: document.getText() }).messages);
  }
}

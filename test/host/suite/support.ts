import { strict as assert } from "node:assert";
import { readFileSync } from "node:fs";
import * as vscode from "vscode";
import type { DesignState } from "../../../src/extension/designState";
import type { ExtensionApi } from "../../../src/extension/extensionApi";

/** The extension under test, as VS Code knows it. */
export const ours = () => vscode.extensions.getExtension<ExtensionApi>("anadem.anadem")!;

/** What the running extension gives to its tests. */
export const api = async (): Promise<ExtensionApi> => ours().activate();

/** A file of the workspace: of the copy of the samples, or of the folder in which nothing is installed. */
export function at(name: string, folder: "samples" | "fresh" = "samples"): vscode.Uri {
  const found = vscode.workspace.workspaceFolders?.find((each) => each.name === folder);
  assert.ok(found, `the workspace has a folder ${folder}`);
  return vscode.Uri.joinPath(found.uri, name);
}

export const write = (uri: vscode.Uri, text: string) =>
  vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));

export const remove = (uri: vscode.Uri) => vscode.workspace.fs.delete(uri, { recursive: true });

export const textOf = (uri: vscode.Uri): string => readFileSync(uri.fsPath, "utf8");

export const pause = (milliseconds: number) =>
  new Promise<void>((resolve) => setTimeout(resolve, milliseconds));

/** Waits until something is there. @throws with `what`, and what `tell` sees, when it does not come */
export async function until<T>(
  what: string,
  ask: () => T | Promise<T>,
  { seconds = 120, tell = () => "" }: { seconds?: number; tell?: () => unknown } = {},
): Promise<NonNullable<T>> {
  const end = performance.now() + 1000 * seconds;
  for (;;) {
    const answer = await ask();
    if (answer) return answer;
    if (performance.now() > end) {
      const seen = tell();
      throw new Error(`waited ${seconds} s until ${what}${seen ? `; seen: ${JSON.stringify(seen)}` : ""}`);
    }
    await pause(20);
  }
}

/** Opens a file in an editor. */
export async function open(uri: vscode.Uri): Promise<vscode.TextEditor> {
  const document = await vscode.workspace.openTextDocument(uri);
  return vscode.window.showTextDocument(document, { preview: false, viewColumn: vscode.ViewColumn.One });
}

/** Puts another text into an open file, as typing does; it stays unsaved. */
export async function type(uri: vscode.Uri, text: string): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(uri);
  const edit = new vscode.WorkspaceEdit();
  const whole = new vscode.Range(0, 0, document.lineCount, 0);
  edit.replace(uri, whole, text);
  assert.ok(await vscode.workspace.applyEdit(edit), "the edit was taken");
  return document;
}

/** Types and saves. */
export async function save(uri: vscode.Uri, text: string): Promise<void> {
  const document = await type(uri, text);
  assert.ok(await document.save(), `${uri.path} was saved`);
}

/** Problems that the extension shows in a file. */
export const problemsIn = (uri: vscode.Uri): vscode.Diagnostic[] =>
  vscode.languages.getDiagnostics(uri).filter(({ source }) => source === "anadem");

/** What keeps a design from being built; what is found of its fit and wear does not. */
export const errorsIn = (uri: vscode.Uri): vscode.Diagnostic[] =>
  problemsIn(uri).filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error);

/** Waits until problems that are right are shown in a file. */
export const problems = (uri: vscode.Uri, what: string, isRight: (problem: vscode.Diagnostic) => boolean) =>
  until(
    `${what} is shown`,
    () => {
      const found = problemsIn(uri);
      return found.some(isRight) ? found : undefined;
    },
    {
      tell: () => ({
        shown: problemsIn(uri).map(({ message }) => message),
        states: ours().exports.designs.known.map(({ uri, status, messages }) => [uri.path, status, messages]),
      }),
    },
  );

/** Whether a problem is of a kind of message. */
export const isOf = (id: string) => (problem: vscode.Diagnostic) => codeOf(problem) === id;

export const codeOf = ({ code }: vscode.Diagnostic) => (typeof code === "object" ? code.value : code);

/** Waits until the last build of a design ended so that `isRight` holds. */
export async function ended(
  uri: vscode.Uri,
  what: string,
  isRight: (state: DesignState) => boolean,
  seconds?: number,
): Promise<DesignState> {
  const { designs } = await api();
  return until(
    what,
    () => {
      const state = designs.state(uri);
      return state.status !== "building" && isRight(state) ? state : undefined;
    },
    {
      seconds,
      tell: () => {
        const { status, isOutdated, messages, header } = designs.state(uri);
        return { status, isOutdated, messages, name: header?.name };
      },
    },
  );
}

export const isGood = ({ status, isOutdated }: DesignState) => status === "built" && !isOutdated;

/** Waits until a design is built under this name. */
export const builtAs = (uri: vscode.Uri, name: string, seconds?: number) =>
  ended(uri, `"${name}" is built`, (state) => isGood(state) && state.header?.name === name, seconds);

/** The range of a text in a file, its `nth` appearance counted from 0. */
export function rangeOf(text: string, part: string, nth = 0): vscode.Range {
  let start = -1;
  for (let i = 0; i <= nth; i++) start = text.indexOf(part, start + 1);
  assert.ok(start >= 0, `the text has ${part}`);
  return new vscode.Range(placeIn(text, start), placeIn(text, start + part.length));
}

export function placeIn(text: string, offset: number): vscode.Position {
  const lines = text.slice(0, offset).split("\n");
  return new vscode.Position(lines.length - 1, lines.at(-1)!.length);
}

export const asText = ({ start, end }: vscode.Range) =>
  `${start.line + 1}:${start.character + 1}-${end.line + 1}:${end.character + 1}`;

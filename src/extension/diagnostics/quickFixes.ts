import { readdir } from "node:fs/promises";
import { basename, dirname } from "node:path";
import * as vscode from "vscode";
import { fixesFor } from "./fixes";
import type { Problems } from "./problems";

/** The files in which findings of ours can stand. */
const selector: vscode.DocumentSelector = [
  { scheme: "file", language: "typescript" },
  { scheme: "file", language: "javascript" },
  { scheme: "file", pattern: "**/*.{wearer,printer,material,print}.json" },
];

/** Offers an edit for findings where it is plain what would be right. */
export function registerQuickFixes(context: vscode.ExtensionContext, problems: Problems): void {
  const provider: vscode.CodeActionProvider = {
    async provideCodeActions(document, _range, { diagnostics }) {
      const ours = diagnostics.flatMap((diagnostic) => {
        const finding = problems.findingOf(document.uri.fsPath, diagnostic);
        return finding ? [{ diagnostic, finding }] : [];
      });
      if (ours.length === 0) return [];
      const neighbours = await namesIn(dirname(document.uri.fsPath));
      return ours.flatMap(({ diagnostic, finding }) =>
        fixesFor({
          message: finding.message,
          text: document.getText(),
          // The editor has moved the problem with the text since it was found.
          offset: document.offsetAt(diagnostic.range.start),
          fileName: basename(document.uri.fsPath),
          neighbours,
          l10n: vscode.l10n,
        }).map((fix) => actionOf(document, diagnostic, fix)),
      );
    },
  };
  context.subscriptions.push(
    vscode.languages.registerCodeActionsProvider(selector, provider, {
      providedCodeActionKinds: [vscode.CodeActionKind.QuickFix],
    }),
  );
}

function actionOf(
  document: vscode.TextDocument,
  diagnostic: vscode.Diagnostic,
  { title, changes, isSafe }: ReturnType<typeof fixesFor>[number],
): vscode.CodeAction {
  const action = new vscode.CodeAction(title, vscode.CodeActionKind.QuickFix);
  action.edit = new vscode.WorkspaceEdit();
  for (const { start, end, text } of changes) {
    const range = new vscode.Range(document.positionAt(start), document.positionAt(end));
    action.edit.replace(document.uri, range, text);
  }
  action.diagnostics = [diagnostic];
  action.isPreferred = isSafe;
  return action;
}

async function namesIn(folder: string): Promise<string[]> {
  try {
    return (await readdir(folder)).sort();
  } catch {
    return [];
  }
}

import * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import type { DesignState, Designs } from "../designState";
import { plainMarkdown } from "../markdownText";
import { partHover, partsAt } from "./partHover";

/** Adds to TypeScript's own hover what was built by the call under the pointer: also in files that designs import. */
export function registerHovers(
  context: vscode.ExtensionContext,
  designs: Designs,
  _actions: DesignActions,
): void {
  const provider: vscode.HoverProvider = {
    provideHover: (document, position) => hoverAt(document, position, designs),
  };
  const selector = { language: "typescript", scheme: "file" };
  context.subscriptions.push(vscode.languages.registerHoverProvider(selector, provider));
}

function hoverAt(
  document: vscode.TextDocument,
  position: vscode.Position,
  designs: Designs,
): vscode.Hover | undefined {
  const word = document.getWordRangeAtPosition(position);
  if (!word) return undefined;
  const { fsPath } = document.uri;
  const spot = { file: fsPath, line: word.start.line + 1, column: word.start.character + 1 };
  const found = designsFor(document, designs).flatMap((state) => {
    const parts = partsAt(state, spot, (file) => vscode.Uri.file(file).fsPath === fsPath);
    return parts.length > 0 ? [{ state, parts }] : [];
  });
  if (found.length === 0) return undefined;
  const texts = found.map(({ state, parts }) => {
    const said = partHover(parts, state.isOutdated || document.isDirty, vscode.l10n);
    // A file that several designs import says whose parts these are.
    return found.length > 1 ? `${plainMarkdown(state.header?.name ?? "")}: ${said}` : said;
  });
  return new vscode.Hover(
    texts.map((text) => new vscode.MarkdownString(text)),
    word,
  );
}

/** The design itself, or for another file all that were built. */
function designsFor({ uri }: vscode.TextDocument, designs: Designs): readonly DesignState[] {
  const { known } = designs;
  const own = known.filter((state) => state.uri.toString() === uri.toString());
  return own.length > 0 ? own : known;
}

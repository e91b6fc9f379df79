import * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings } from "../designState";
import { findHeadpiece } from "../designText";
import { namedParties } from "../tree/partyUse";
import { type LensText, lensTexts } from "./lensTexts";

/** The lenses above `headpiece(…)`: wearer, mass and size, fit, export, preview. */
export function registerLenses(
  context: vscode.ExtensionContext,
  designs: Designs,
  _actions: DesignActions,
): void {
  const lenses = new DesignLenses(designs);
  const selector = { language: "typescript", pattern: `**/*${fileEndings.design}` };
  context.subscriptions.push(lenses, vscode.languages.registerCodeLensProvider(selector, lenses));
}

class DesignLenses implements vscode.CodeLensProvider, vscode.Disposable {
  readonly #changed = new vscode.EventEmitter<void>();
  readonly onDidChangeCodeLenses = this.#changed.event;
  readonly #designs: Designs;
  /** What each design's lenses said last: progress alone draws nothing anew. */
  readonly #shown = new Map<string, string>();
  readonly #listening: vscode.Disposable[];

  constructor(designs: Designs) {
    this.#designs = designs;
    const changed = () => this.#changed.fire();
    this.#listening = [
      this.#changed,
      designs.onDidChange((design) => this.#designChanged(design)),
      vscode.workspace.onDidGrantWorkspaceTrust(changed),
      vscode.workspace.onDidChangeConfiguration(
        (event) => event.affectsConfiguration("anadem.codeLens") && changed(),
      ),
    ];
  }

  provideCodeLenses(document: vscode.TextDocument): vscode.CodeLens[] {
    const { uri } = document;
    const isWanted = vscode.workspace.getConfiguration("anadem", uri).get("codeLens", true);
    const text = document.getText();
    const call = isWanted ? findHeadpiece(text) : undefined;
    if (!call) return [];
    const lenses = this.#textsOf(uri, namedParties(text).wearer);
    this.#shown.set(uri.toString(), JSON.stringify(lenses));
    const at = document.positionAt(call.start);
    return lenses.map(
      ({ text, tooltip, command, isPlain }) =>
        new vscode.CodeLens(new vscode.Range(at, at), {
          title: text,
          tooltip,
          command,
          arguments: isPlain ? [] : [uri],
        }),
    );
  }

  dispose(): void {
    for (const one of this.#listening) one.dispose();
  }

  #textsOf(design: vscode.Uri, named: string | undefined): LensText[] {
    return lensTexts(this.#designs.state(design), named, vscode.workspace.isTrusted, vscode.l10n);
  }

  #designChanged(design: vscode.Uri): void {
    const key = design.toString();
    const shown = this.#shown.get(key);
    const document = vscode.workspace.textDocuments.find(({ uri }) => uri.toString() === key);
    if (shown === undefined || !document) return;
    const now = JSON.stringify(this.#textsOf(design, namedParties(document.getText()).wearer));
    if (now !== shown) this.#changed.fire();
  }
}

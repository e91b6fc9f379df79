import { readFileSync } from "node:fs";
import * as vscode from "vscode";
import type { Message } from "../../message";
import { FindingLedger } from "./findingLedger";
import { type Finding, findingOf, isProblem, type Stretch } from "./findings";
import { headingLines } from "./helpPages";
import { isMeasured } from "./measured";

const severities = {
  error: vscode.DiagnosticSeverity.Error,
  warning: vscode.DiagnosticSeverity.Warning,
  note: vscode.DiagnosticSeverity.Information,
} as const;

/** What only tells about wear or print is so for most pieces: it is hinted at its line, and not listed as a problem. */
const severityOf = (message: Message): vscode.DiagnosticSeverity =>
  message.severity === "note" && isMeasured(message)
    ? vscode.DiagnosticSeverity.Hint
    : severities[message.severity];

/** Findings of all designs as the editor's problems. */
export class Problems implements vscode.Disposable {
  readonly #collection: vscode.DiagnosticCollection;
  readonly #ledger = new FindingLedger();
  readonly #help: vscode.Uri;
  #helpLines: Map<string, number> | undefined;

  /** @param name keeps what this found apart from what others do, in the editor's own books */
  constructor(extension: vscode.Uri, name = "anadem") {
    this.#collection = vscode.languages.createDiagnosticCollection(name);
    this.#help = vscode.Uri.joinPath(extension, "media", "help", "messages.md");
  }

  /** Shows what was found in a design, in place of what was found in it before. */
  show(design: string, messages: readonly Message[]): void {
    const texts = new Map<string, string | undefined>();
    const textOf = (file: string) => {
      if (!texts.has(file)) texts.set(file, openText(file));
      return texts.get(file);
    };
    const findings = messages.filter(isProblem).map((message) => findingOf(message, design, textOf));
    for (const file of this.#ledger.replace(design, findings)) {
      const found = this.#ledger.of(file);
      this.#collection.set(
        vscode.Uri.file(file),
        found.map((each) => this.#diagnosticOf(each)),
      );
    }
  }

  /** What a problem that the editor shows was made of. */
  findingOf(file: string, diagnostic: vscode.Diagnostic): Finding | undefined {
    if (diagnostic.source !== source) return undefined;
    return this.#ledger
      .of(file)
      .find(({ id, text }) => text === diagnostic.message && id === idOf(diagnostic));
  }

  designOf(finding: Finding): string | undefined {
    return this.#ledger.designOf(finding);
  }

  dispose(): void {
    this.#collection.dispose();
  }

  #diagnosticOf({ stretch, text, id, related, message }: Finding): vscode.Diagnostic {
    const diagnostic = new vscode.Diagnostic(rangeOf(stretch), text, severityOf(message));
    diagnostic.source = source;
    const target = this.#helpFor(id);
    diagnostic.code = target ? { value: id, target } : id;
    if (related.length > 0) {
      diagnostic.relatedInformation = related.map(
        (each) =>
          new vscode.DiagnosticRelatedInformation(
            new vscode.Location(vscode.Uri.file(each.file), rangeOf(each.stretch)),
            each.text,
          ),
      );
    }
    return diagnostic;
  }

  #helpFor(id: string): vscode.Uri | undefined {
    this.#helpLines ??= headingLines(readHelp(this.#help.fsPath));
    const line = this.#helpLines.get(id);
    return line === undefined ? undefined : this.#help.with({ fragment: `L${line}` });
  }
}

const source = "anadem";

const idOf = ({ code }: vscode.Diagnostic) => (typeof code === "object" ? code.value : code);

const rangeOf = ({ startLine, startCharacter, endLine, endCharacter }: Stretch): vscode.Range =>
  new vscode.Range(startLine, startCharacter, endLine, endCharacter);

const openText = (file: string): string | undefined =>
  vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === "file" && uri.fsPath === file)?.getText();

function readHelp(file: string): string {
  try {
    return readFileSync(file, "utf8");
  } catch {
    return "";
  }
}

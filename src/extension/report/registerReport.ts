import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings } from "../designState";
import { designOf } from "../statusBar/target";
import { stemOf } from "../tree/labels";
import { type CommittedReport, reportPage } from "./reportPage";

const scheme = "anadem-report";

/** The command that shows a design's report, and the read-only pages that it shows. */
export function registerReport(
  context: vscode.ExtensionContext,
  designs: Designs,
  actions: DesignActions,
): void {
  const pages = new ReportPages(designs);
  context.subscriptions.push(
    pages,
    vscode.workspace.registerTextDocumentContentProvider(scheme, pages),
    vscode.commands.registerCommand(commandIds.showReport, async (argument?: unknown) => {
      const design = designOf(argument, designs, actions);
      if (!design) {
        void vscode.window.showInformationMessage(vscode.l10n.t("Open a headpiece design first."));
        return;
      }
      await vscode.commands.executeCommand("markdown.showPreview", pages.pageOf(design));
    }),
  );
}

class ReportPages implements vscode.TextDocumentContentProvider, vscode.Disposable {
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  readonly onDidChange = this.#changed.event;
  readonly #designs: Designs;
  /** Pages that were shown, by design, and what each showed last. */
  readonly #shown = new Map<
    string,
    { readonly design: vscode.Uri; readonly look: string; readonly report: unknown }
  >();
  readonly #listening: vscode.Disposable[];

  constructor(designs: Designs) {
    this.#designs = designs;
    this.#listening = [
      this.#changed,
      designs.onDidChange((design) => this.#designChanged(design)),
      vscode.workspace.onDidGrantWorkspaceTrust(() => {
        for (const { design } of this.#shown.values()) this.#changed.fire(this.pageOf(design));
      }),
    ];
  }

  /** The page of a design: named so that its tab reads well; the query says which design it is. */
  pageOf(design: vscode.Uri): vscode.Uri {
    const name = vscode.l10n.t("{0} report", stemOf(design.path, fileEndings.design));
    return vscode.Uri.from({ scheme, path: `/${name}.md`, query: design.toString() });
  }

  async provideTextDocumentContent(page: vscode.Uri): Promise<string> {
    const design = vscode.Uri.parse(page.query, true);
    const state = this.#designs.state(design);
    this.#shown.set(design.toString(), { design, look: lookOf(state), report: state.report });
    const label = stemOf(design.path, fileEndings.design);
    return reportPage(label, state, await committedReport(design), vscode.workspace.isTrusted, vscode.l10n);
  }

  dispose(): void {
    for (const one of this.#listening) one.dispose();
  }

  #designChanged(design: vscode.Uri): void {
    const shown = this.#shown.get(design.toString());
    if (!shown) return;
    const state = this.#designs.state(design);
    // While building, the page stays as it is.
    if (state.status === "building") return;
    if (shown.report !== state.report || shown.look !== lookOf(state))
      this.#changed.fire(this.pageOf(design));
  }
}

const lookOf = ({ status, isOutdated }: { readonly status: string; readonly isOutdated: boolean }): string =>
  `${status} ${isOutdated}`;

async function committedReport(design: vscode.Uri): Promise<CommittedReport> {
  const file = design.with({ path: `${design.path.slice(0, -fileEndings.design.length)}.report.json` });
  try {
    return { text: new TextDecoder().decode(await vscode.workspace.fs.readFile(file)) };
  } catch {
    return { missing: true };
  }
}

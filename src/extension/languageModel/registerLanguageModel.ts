import * as vscode from "vscode";
import type { Message } from "../../message";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings, type PartyKind } from "../designState";
import { isMeasured } from "../diagnostics/measured";
import { commandLine } from "../tasks/commandLine";
import { partyKinds } from "../tree/partyUse";
import { type FileKind, type WorkspaceFiles, workspaceFiles } from "../tree/workspaceFiles";
import { buildApart } from "./buildApart";
import { fileMeant, type ToolInput, toolInputOf } from "./toolInput";
import { fitExplanation, resultJson, type ToolBuild } from "./toolResult";

/** The tools for language models: build and report, explain the fit. */
export function registerLanguageModel(
  context: vscode.ExtensionContext,
  designs: Designs,
  _actions: DesignActions,
): void {
  // Editors that are built on VS Code may leave this out.
  if (typeof vscode.lm?.registerTool !== "function") return;
  const builder = new ToolBuilder(context, designs);
  const tool = (
    name: string,
    doing: (design: string) => string,
    texts: (build: ToolBuild) => string[],
  ): vscode.Disposable =>
    vscode.lm.registerTool<ToolInput>(name, {
      prepareInvocation: ({ input }) => ({
        invocationMessage: doing(input.design),
        confirmationMessages: {
          title: doing(input.design),
          message: vscode.l10n.t("This runs the design's code, apart from the editor. No file is written."),
        },
      }),
      async invoke({ input }, token) {
        const build = await builder.build(toolInputOf(input), token);
        return new vscode.LanguageModelToolResult(
          texts(build).map((text) => new vscode.LanguageModelTextPart(text)),
        );
      },
    });
  context.subscriptions.push(
    tool(
      "anadem_build",
      (design) => vscode.l10n.t("Build {0}", design),
      (build) => [resultJson(build)],
    ),
    tool(
      "anadem_fit",
      (design) => vscode.l10n.t("Explain the fit of {0}", design),
      (build) => [fitExplanation(build), resultJson(build)],
    ),
  );
}

class ToolBuilder {
  readonly #context: vscode.ExtensionContext;
  readonly #designs: Designs;

  constructor(context: vscode.ExtensionContext, designs: Designs) {
    this.#context = context;
    this.#designs = designs;
  }

  /** Builds what the files say, with what the input puts in their place. */
  async build(input: ToolInput, token: vscode.CancellationToken): Promise<ToolBuild> {
    if (!vscode.workspace.isTrusted) {
      throw new Error(
        "The workspace is in Restricted Mode: designs are not built until the person trusts it.",
      );
    }
    const files = workspaceFiles(this.#context);
    const design = await meant(input.design, "design", files);
    const parties: Partial<Record<PartyKind, vscode.Uri>> = {};
    for (const kind of partyKinds) {
      const wanted = input[kind];
      if (wanted !== undefined) parties[kind] = await meant(wanted, kind, files);
    }
    if (token.isCancellationRequested) throw new vscode.CancellationError();
    const { chosen, values } = this.#designs.state(design);
    const isAsInFiles = [chosen, values, parties, input.values ?? {}].every(
      (changes) => Object.keys(changes).length === 0,
    );
    const build = isAsInFiles
      ? await this.#buildHere(design, token)
      : await this.#buildApart(design, parties, input.values, token);
    return { ...build, messages: [...build.messages, ...unsavedNotes(design)] };
  }

  /** The build that the editor shows. */
  async #buildHere(design: vscode.Uri, token: vscode.CancellationToken): Promise<ToolBuild> {
    const stop = token.onCancellationRequested(() => this.#designs.cancel(design));
    try {
      await this.#designs.build(design);
      const { status, messages, report } = await this.#designs.planned(design);
      if (status === "cancelled" || token.isCancellationRequested) throw new vscode.CancellationError();
      const ok = status === "built" && report !== undefined;
      // What was found of wear and print stands in the report, as in that of the command line.
      const own = messages.filter((message) => !isMeasured(message));
      return { ok, messages: own, report: ok ? report : null };
    } finally {
      stop.dispose();
    }
  }

  async #buildApart(
    design: vscode.Uri,
    parties: Readonly<Partial<Record<PartyKind, vscode.Uri>>>,
    values: ToolInput["values"],
    token: vscode.CancellationToken,
  ): Promise<ToolBuild> {
    const abort = new AbortController();
    const stop = token.onCancellationRequested(() => abort.abort());
    const paths = Object.fromEntries(Object.entries(parties).map(([kind, file]) => [kind, file.fsPath]));
    try {
      const request = { design: design.fsPath, ...paths, ...(values && { values }) };
      return await buildApart(request, commandLine(this.#context), abort.signal);
    } catch (error) {
      throw abort.signal.aborted ? new vscode.CancellationError() : error;
    } finally {
      stop.dispose();
    }
  }
}

/** A build is of what is saved: said where the design has changes that are not. */
function unsavedNotes(design: vscode.Uri): readonly Message[] {
  const key = design.toString();
  const isDirty = vscode.workspace.textDocuments.some(
    ({ uri, isDirty }) => isDirty && uri.toString() === key,
  );
  const text = "The design has unsaved changes, which may not be part of this build: save it first.";
  return isDirty ? [{ id: "unsaved-changes", severity: "note", text, file: design.fsPath }] : [];
}

async function meant(wanted: string, kind: FileKind, files: WorkspaceFiles): Promise<vscode.Uri> {
  const list = await files.list(kind);
  const path = fileMeant(
    wanted,
    list.map((file) => file.path),
    fileEndings[kind],
    kind === "design" ? "design" : `${kind}'s file`,
  );
  return list.find((file) => file.path === path)!;
}

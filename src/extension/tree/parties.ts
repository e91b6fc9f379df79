import * as vscode from "vscode";
import type { DesignState, PartyKind } from "../designState";
import type { PartySummary } from "./partyFile";
import { namedParties, pathOfNamed } from "./partyUse";
import type { WorkspaceFiles } from "./workspaceFiles";

/** What is said of a wearer's, printer's or material's file; also where it cannot be read. */
export async function readParty(
  kind: PartyKind,
  file: vscode.Uri,
  files: WorkspaceFiles,
): Promise<PartySummary> {
  // The readers check by JSON schema: loaded when the first list is looked at, not when the editor starts.
  const { summaryOfParty } = await import("./partyFile");
  try {
    return summaryOfParty(kind, await files.text(file), file.fsPath, vscode.l10n);
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    return {
      detail: text,
      facts: [],
      warnings: [],
      error: { id: "file-unreadable", severity: "error", text, file: file.fsPath },
    };
  }
}

/** The file that a design uses: the one chosen, else the one that it names; undefined where it names none. */
export async function fileInUse(
  state: DesignState,
  kind: PartyKind,
  files: WorkspaceFiles,
): Promise<vscode.Uri | undefined> {
  return state.chosen[kind] ?? ownFile(state, kind, files);
}

/** The file that a design itself names; undefined where it names none. */
export async function ownFile(
  { uri, header }: Pick<DesignState, "uri" | "header">,
  kind: PartyKind,
  files: WorkspaceFiles,
): Promise<vscode.Uri | undefined> {
  const named = header
    ? kind === "print"
      ? header.print.file
      : header[kind]
    : (await namesInText(uri, files))[kind];
  return named === undefined ? undefined : uri.with({ path: pathOfNamed(uri.path, named) });
}

const namesInText = async (design: vscode.Uri, files: WorkspaceFiles) =>
  namedParties(await files.text(design).catch(() => ""));

import * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import type { StandingRow } from "./knownRows";
import { ownWearer } from "./refitSubject";

/** Shows the design's preview on the row's wearer: a choice that can be taken back, and no edit of its file. */
export async function showRow(
  row: Pick<StandingRow, "design" | "wearer">,
  designs: Designs,
  actions: Pick<DesignActions, "showPreview">,
  files: WorkspaceFiles,
): Promise<void> {
  const design = vscode.Uri.file(row.design);
  const isOwn = row.wearer === "" || row.wearer === (await ownWearer(design, files))?.fsPath;
  const wearer = isOwn ? undefined : vscode.Uri.file(row.wearer);
  const before = designs.state(design).chosen.wearer;
  const choosing = wearer?.fsPath === before?.fsPath ? undefined : designs.choose(design, "wearer", wearer);
  await actions.showPreview(design);
  await choosing;
}

import * as vscode from "vscode";
import { applyChanges } from "../applyChanges";
import type { Designs, PartyKind } from "../designState";
import { showCode } from "../showCode";
import { nameOfPath } from "../tree/partyUse";
import { partyEdit } from "./partyEdit";

/**
 * Writes the wearer, printer, material or print settings of a design into its file, as an edit that can be undone. A file that was
 * saved before is saved after; one with changes of the person's own is left to them.
 */
export async function writeParty(
  design: vscode.Uri,
  kind: PartyKind,
  file: vscode.Uri,
  designs: Designs,
): Promise<void> {
  const document = await vscode.workspace.openTextDocument(design);
  const change = partyEdit(document.getText(), kind, nameOfPath(design.path, file.path));
  if (!change) {
    await showCode(design);
    void vscode.window.showWarningMessage(
      vscode.l10n.t('The design computes its {0}, so it must be changed by hand: write {0}: "file".', kind),
    );
    return;
  }
  const wasDirty = document.isDirty;
  if (!(await applyChanges(document, [change]))) return;
  if (wasDirty || !(await document.save())) await designs.choose(design, kind, file);
  else await designs.choose(design, kind, undefined);
}

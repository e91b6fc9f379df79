import * as vscode from "vscode";
import type { PlanOrientation } from "../../preview/protocol";
import { applyChanges } from "../applyChanges";
import { showCode } from "../showCode";
import { orientationEdit } from "./orientationEdit";

/**
 * Writes into a design which way up it is printed, as an edit that can be undone. A file that was saved before is saved
 * after; one with changes of the person's own is left to them.
 */
export async function writeOrientationInto(
  design: vscode.Uri,
  orientation: PlanOrientation["orientation"],
): Promise<void> {
  const document = await vscode.workspace.openTextDocument(design);
  const change = orientationEdit(document.getText(), orientation);
  if (!change) {
    await showCode(design);
    void vscode.window.showWarningMessage(
      vscode.l10n.t(
        "The design computes its print, so it must be changed by hand: print: { orientation: … }.",
      ),
    );
    return;
  }
  const wasDirty = document.isDirty;
  if ((await applyChanges(document, [change])) && !wasDirty) await document.save();
}

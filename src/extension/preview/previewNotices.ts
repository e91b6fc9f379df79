import { basename } from "node:path";
import * as vscode from "vscode";
import type { ToPreview } from "../../preview/protocol";

/** What a preview says where there is nothing to be shown, and why. */

export const restrictedNotice = (): ToPreview => ({
  kind: "notice",
  title: vscode.l10n.t("Restricted Mode"),
  text: vscode.l10n.t(
    "A design is a program, and this folder is not trusted: nothing is run and nothing is built. The report kept beside the design can be read.",
  ),
  action: { label: vscode.l10n.t("Manage Workspace Trust"), command: "manageTrust" },
});

export const nothingNotice = (): ToPreview => ({
  kind: "notice",
  title: vscode.l10n.t("No design is open"),
  text: vscode.l10n.t("Open a file that ends in .headpiece.ts, or begin a new design."),
  action: { label: vscode.l10n.t("New Design"), command: "newDesign" },
});

export const goneNotice = (path: string): ToPreview => ({
  kind: "notice",
  title: vscode.l10n.t("The design is gone"),
  text: vscode.l10n.t("{0} was deleted or moved. Once it is back, it is built again.", basename(path)),
});

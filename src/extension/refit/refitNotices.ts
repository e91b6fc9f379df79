import * as vscode from "vscode";
import type { ToRefitTable } from "../../pages/refitTable/protocol";
import type { RefitRows } from "./refitRows";

type Notice = Extract<ToRefitTable, { kind: "notice" }>;

/** What stands in place of a table, with what can be done; undefined where there is a table. */
export function refitNotice({ groups, rows }: Pick<RefitRows, "groups" | "rows">): Notice | undefined {
  const { l10n, workspace } = vscode;
  if (!workspace.isTrusted) {
    return {
      kind: "notice",
      title: l10n.t("Restricted Mode"),
      text: l10n.t("A design is a program: none is run, and so none is fitted, until you trust this folder."),
      action: { label: l10n.t("Manage Trust"), command: "manageTrust" },
    };
  }
  if (groups.length === 0) {
    return {
      kind: "notice",
      title: l10n.t("No design"),
      text: l10n.t("A table needs a design, NAME.headpiece.ts, in the folder that you have open."),
      action: { label: l10n.t("New Design…"), command: "newDesign" },
    };
  }
  if (rows.length === 0) {
    return {
      kind: "notice",
      title: l10n.t("No wearers"),
      text: l10n.t(
        "A design is fitted to each NAME.wearer.json of the folder that you have open: there is none.",
      ),
      action: { label: l10n.t("New Wearer…"), command: "newWearer" },
    };
  }
  return undefined;
}

import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings, type PartyKind } from "../designState";
import { stemOf } from "../tree/labels";
import { fileInUse, readParty } from "../tree/parties";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import { choosePartyOf } from "./choosing";
import { designFigures, figuresLine } from "./designFigures";

interface MenuItem extends vscode.QuickPickItem {
  readonly act?: () => unknown;
}

/** Wearers that the menu itself names; the list has all. */
const mostWearers = 6;

/** The actions of a design, its wearer first: another wearer is two steps away. */
export async function showDesignMenu(
  design: vscode.Uri,
  designs: Designs,
  actions: DesignActions,
  files: WorkspaceFiles,
): Promise<void> {
  const { l10n } = vscode;
  const items = vscode.workspace.isTrusted
    ? await trustedItems(design, designs, actions, files)
    : [
        { label: `$(shield) ${l10n.t("Manage Workspace Trust")}`, act: command("workbench.trust.manage") },
        { label: `$(output) ${l10n.t("Show Report")}`, act: command(commandIds.showReport, design) },
      ];
  const picked = await vscode.window.showQuickPick(items, {
    title: stemOf(design.path, fileEndings.design),
    placeHolder: figuresLine(designFigures(designs.state(design), l10n)) || l10n.t("Choose an action"),
    matchOnDescription: true,
  });
  await picked?.act?.();
}

const command =
  (id: string, ...given: unknown[]) =>
  () =>
    vscode.commands.executeCommand(id, ...given);

async function trustedItems(
  design: vscode.Uri,
  designs: Designs,
  actions: DesignActions,
  files: WorkspaceFiles,
): Promise<MenuItem[]> {
  const { l10n } = vscode;
  const { facts, report, status } = designs.state(design);
  const choose = (kind: PartyKind) => () => choosePartyOf(design, kind, designs, files);
  const line = (label: string): MenuItem => ({ label, kind: vscode.QuickPickItemKind.Separator });
  return [
    {
      label: `$(account) ${l10n.t("Choose Wearer…")}`,
      description: facts?.wearer ?? report?.wearer ?? "",
      act: choose("wearer"),
    },
    ...(await otherWearers(design, designs, files)),
    line(l10n.t("Made on and of")),
    {
      label: `$(package) ${l10n.t("Choose Printer…")}`,
      description: facts?.printer ?? "",
      act: choose("printer"),
    },
    {
      label: `$(symbol-color) ${l10n.t("Choose Material…")}`,
      description: facts?.material ?? "",
      act: choose("material"),
    },
    {
      label: `$(settings) ${l10n.t("Choose Print Settings…")}`,
      description: facts?.print ?? "",
      act: choose("print"),
    },
    line(l10n.t("The piece")),
    { label: `$(eye) ${l10n.t("Show Preview")}`, act: () => actions.showPreview(design) },
    status === "building"
      ? { label: `$(stop) ${l10n.t("Cancel Build")}`, act: () => designs.cancel(design) }
      : { label: `$(play) ${l10n.t("Build")}`, act: () => designs.build(design) },
    { label: `$(export) ${l10n.t("Export")}`, act: () => actions.export(design) },
    { label: `$(output) ${l10n.t("Show Report")}`, act: command(commandIds.showReport, design) },
    {
      label: `$(git-compare) ${l10n.t("Compare With Commit…")}`,
      act: command(commandIds.compareWithCommit, design),
    },
    { label: `$(git-commit) ${l10n.t("Keep Report for Git")}`, act: () => actions.keepReport(design) },
  ];
}

async function otherWearers(
  design: vscode.Uri,
  designs: Designs,
  files: WorkspaceFiles,
): Promise<MenuItem[]> {
  const current = (await fileInUse(designs.state(design), "wearer", files))?.toString();
  const wearers = await files.list("wearer");
  const others = wearers.filter((file) => file.toString() !== current).slice(0, mostWearers);
  const summaries = await Promise.all(others.map((file) => readParty("wearer", file, files)));
  return summaries.flatMap(({ name, detail, error }, i) =>
    error || !name
      ? []
      : [
          {
            label: `$(blank) ${vscode.l10n.t("Fit to {0}", name)}`,
            description: detail,
            act: () => designs.choose(design, "wearer", others[i]),
          },
        ],
  );
}

import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import { type Designs, fileEndings, type PartyKind } from "../designState";
import { folderGroups, isMultiRoot } from "../tree/folderGroups";
import { stemOf } from "../tree/labels";
import { fileInUse, ownFile, readParty } from "../tree/parties";
import { nameOfPath } from "../tree/partyUse";
import { openingAt } from "../tree/places";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import { choiceText, choiceTitle, ownChoiceText } from "./partyPick";
import { writeParty } from "./writeParty";

interface Choice extends vscode.QuickPickItem {
  /** The file to use; undefined with `isOwn`: the design's own. */
  readonly file?: vscode.Uri;
  readonly isOwn?: boolean;
  readonly isNew?: boolean;
  /** The file cannot be used: choosing it opens it at the error. */
  readonly broken?: vscode.Command;
  readonly isCurrent?: boolean;
}

/** A person who looks through a list is shown each after this pause, ms. */
const lookingPause = 400;

/**
 * Asks for the wearer, printer, material or print settings of a design. The piece is refitted as the person goes through the list;
 * leaving it restores what was.
 */
export async function choosePartyOf(
  design: vscode.Uri,
  kind: PartyKind,
  designs: Designs,
  files: WorkspaceFiles,
): Promise<void> {
  const before = designs.state(design).chosen[kind];
  const picker = vscode.window.createQuickPick<Choice>();
  picker.title = choiceTitle(kind, stemOf(design.path, fileEndings.design), vscode.l10n);
  picker.placeholder = vscode.l10n.t(
    "The piece is refitted as you go through the list; Escape leaves it as it was",
  );
  picker.matchOnDescription = true;
  picker.matchOnDetail = true;

  let shown = before;
  const show = async (file: vscode.Uri | undefined) => {
    if (file?.toString() === shown?.toString()) return;
    shown = file;
    await designs.choose(design, kind, file);
  };
  let timer: NodeJS.Timeout | undefined;
  let isDone = false;
  picker.onDidChangeActive(([item]) => {
    clearTimeout(timer);
    if (!item || item.isNew || item.broken) return;
    timer = setTimeout(() => !isDone && void show(item.file), lookingPause);
  });
  await new Promise<void>((resolve, reject) => {
    const finish = async (act: () => Promise<unknown>) => {
      if (isDone) return;
      isDone = true;
      clearTimeout(timer);
      picker.hide();
      await act().then(() => resolve(), reject);
    };
    picker.onDidAccept(() => {
      const [item] = picker.selectedItems;
      if (!item) return;
      if (item.isNew) return finish(() => show(before).then(() => newWearer(design, designs)));
      const { broken } = item;
      if (broken) return finish(() => show(before).then(() => run(broken)));
      return finish(() => show(item.file));
    });
    picker.onDidTriggerItemButton(({ item }) => {
      const { file } = item;
      if (file) finish(() => writeParty(design, kind, file, designs));
    });
    picker.onDidHide(() => finish(() => show(before)));
    // The list is there at once; reading the files may take a moment.
    picker.busy = true;
    picker.show();
    void choicesOf(design, kind, designs, files).then(
      (items) => {
        if (isDone) return;
        picker.items = items;
        picker.activeItems = items.filter(({ isCurrent }) => isCurrent).slice(0, 1);
        picker.busy = false;
      },
      (error) => finish(() => Promise.reject(error)),
    );
  }).finally(() => picker.dispose());
}

const run = ({ command, arguments: given = [] }: vscode.Command) =>
  vscode.commands.executeCommand(command, ...given);

/** Has a new wearer's file made and uses it. */
async function newWearer(design: vscode.Uri, designs: Designs): Promise<void> {
  const file = await vscode.commands.executeCommand<vscode.Uri | undefined>(commandIds.newWearer);
  if (file) await designs.choose(design, "wearer", file);
}

async function choicesOf(
  design: vscode.Uri,
  kind: PartyKind,
  designs: Designs,
  files: WorkspaceFiles,
): Promise<Choice[]> {
  const state = designs.state(design);
  const own = await ownFile(state, kind, files);
  const isOwnInUse = state.chosen[kind] === undefined;
  const items: Choice[] = [
    {
      ...ownChoiceText(kind, own && nameOfPath(design.path, own.path), isOwnInUse, vscode.l10n),
      isOwn: true,
      isCurrent: isOwnInUse,
    },
  ];
  const current = (await fileInUse(state, kind, files))?.toString();
  const writing: vscode.QuickInputButton = {
    iconPath: new vscode.ThemeIcon("save-as"),
    tooltip: vscode.l10n.t("Write into Design"),
  };
  for (const group of folderGroups(await files.list(kind), fileEndings[kind])) {
    const label = isMultiRoot() ? group.node.folder.name : "";
    items.push({ label, kind: vscode.QuickPickItemKind.Separator });
    for (const { uri, label } of group.files) {
      const summary = await readParty(kind, uri, files);
      const isCurrent = !isOwnInUse && uri.toString() === current;
      const path = vscode.workspace.asRelativePath(uri, false);
      items.push({
        ...choiceText({ path, label, summary, isCurrent }),
        file: uri,
        isCurrent,
        ...(summary.error ? { broken: openingAt(uri, summary.error) } : { buttons: [writing] }),
      });
    }
  }
  if (kind === "wearer") {
    items.push(
      { label: "", kind: vscode.QuickPickItemKind.Separator },
      { label: `$(add) ${vscode.l10n.t("New Wearer…")}`, isNew: true },
    );
  }
  return items;
}

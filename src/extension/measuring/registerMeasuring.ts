import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings } from "../designState";
import type { Jobs } from "../jobs";
import { workspaceFiles } from "../tree/workspaceFiles";
import { likelyFolders } from "../wizards/folders";
import { chooseSubject } from "./chooseSubject";
import type { GuideSubject } from "./guidePanel";
import { GuidePanels } from "./guidePanels";

/** The guided measuring of a wearer, and its sheet. They run nothing, so they work in Restricted Mode too. */
export function registerMeasuring(
  context: vscode.ExtensionContext,
  designs: Designs,
  _actions: DesignActions,
  _jobs: Jobs,
): void {
  const sheetOf = async (file: vscode.Uri | undefined) => {
    const { showSheet } = await import("./showSheet");
    return showSheet(file);
  };
  const files = workspaceFiles(context);
  const panels = new GuidePanels(context.extensionUri, {
    makeFile: async (name, text, folders) => {
      const { askNewFile } = await import("../wizards/newWearer");
      const places = folders.length > 0 ? folders : await likelyFolders(files, designs.active);
      return askNewFile(name, text, places);
    },
    sheet: (file) => void sheetOf(file),
  });
  context.subscriptions.push(
    panels,
    vscode.commands.registerCommand(commandIds.measureWearer, async (argument?: unknown) => {
      const file = wearerOf(argument) ?? (argument === undefined ? wearerInEditor() : undefined);
      const subject: GuideSubject | undefined = file
        ? { file }
        : (newcomerOf(argument) ?? (await chooseSubject(files, () => likelyFolders(files, designs.active))));
      if (subject) panels.show(subject);
    }),
    vscode.commands.registerCommand(commandIds.showMeasuringSheet, async (argument?: unknown) =>
      sheetOf(wearerOf(argument) ?? wearerInEditor()),
    ),
  );
}

/** The wearer's file that a command was given: a Uri, or a row that has one. */
function wearerOf(argument: unknown): vscode.Uri | undefined {
  const { uri } = (typeof argument === "object" && argument !== null ? argument : {}) as { uri?: unknown };
  const file = argument instanceof vscode.Uri ? argument : uri;
  return file instanceof vscode.Uri && file.path.endsWith(fileEndings.wearer) ? file : undefined;
}

/** Somebody new whose name is known already, as the wizard of new wearers gives it. */
function newcomerOf(argument: unknown): GuideSubject | undefined {
  if (typeof argument !== "object" || argument === null) return undefined;
  const { name, folders } = argument as { name?: unknown; folders?: unknown };
  if (typeof name !== "string" || name === "") return undefined;
  const isFolders = Array.isArray(folders) && folders.every((one) => one instanceof vscode.Uri);
  return { name, folders: isFolders ? folders : [] };
}

const wearerInEditor = (): vscode.Uri | undefined => wearerOf(vscode.window.activeTextEditor?.document.uri);

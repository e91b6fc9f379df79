import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import type { Jobs } from "../jobs";
import { designOf } from "../statusBar/target";
import { workspaceFiles } from "../tree/workspaceFiles";
import { RefitPanels } from "./refitPanels";

/** The table of designs over all wearers, and the command that shows it. */
export function registerRefit(
  context: vscode.ExtensionContext,
  designs: Designs,
  actions: DesignActions,
  jobs: Jobs,
  log: vscode.LogOutputChannel,
): RefitPanels {
  const panels = new RefitPanels({
    extension: context.extensionUri,
    storage: context.storageUri,
    designs,
    actions,
    jobs,
    files: workspaceFiles(context),
    log,
  });
  context.subscriptions.push(
    panels,
    vscode.commands.registerCommand(commandIds.refit, (argument?: unknown) =>
      panels.show(designOf(argument, designs, actions)),
    ),
  );
  return panels;
}

import * as vscode from "vscode";
import { commandIds } from "../commandIds";
import type { DesignActions } from "../designActions";
import type { Designs, PartyKind } from "../designState";
import { workspaceFiles } from "../tree/workspaceFiles";
import { choosePartyOf } from "./choosing";
import { designOf } from "./target";

/** The commands that choose a design's wearer, printer, material and print settings. */
export function registerChoosing(
  context: vscode.ExtensionContext,
  designs: Designs,
  actions: DesignActions,
): void {
  const commands: readonly (readonly [id: string, kind: PartyKind])[] = [
    [commandIds.chooseWearer, "wearer"],
    [commandIds.choosePrinter, "printer"],
    [commandIds.chooseMaterial, "material"],
    [commandIds.choosePrintSettings, "print"],
  ];
  for (const [id, kind] of commands) {
    context.subscriptions.push(
      vscode.commands.registerCommand(id, async (argument?: unknown) => {
        const design = designOf(argument, designs, actions);
        // In Restricted Mode nothing is built, so there is nothing to fit.
        if (!design || !vscode.workspace.isTrusted) return;
        await choosePartyOf(design, kind, designs, workspaceFiles(context));
      }),
    );
  }
}

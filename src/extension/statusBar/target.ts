import * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import { type Designs, fileEndings } from "../designState";

/**
 * The design that a command is about: its argument (a Uri, or a row that has one), else that of the focused preview,
 * else the active one. Other Uris, as a preview's own, are none.
 */
export function designOf(
  argument: unknown,
  designs: Designs,
  actions: Pick<DesignActions, "focused">,
): vscode.Uri | undefined {
  const uri = uriOf(argument);
  return uri?.path.endsWith(fileEndings.design) ? uri : (actions.focused ?? designs.active);
}

function uriOf(argument: unknown): vscode.Uri | undefined {
  if (argument instanceof vscode.Uri) return argument;
  if (typeof argument !== "object" || argument === null) return undefined;
  const { uri, resourceUri } = argument as { uri?: unknown; resourceUri?: unknown };
  const found = uri ?? resourceUri;
  return found instanceof vscode.Uri ? found : undefined;
}

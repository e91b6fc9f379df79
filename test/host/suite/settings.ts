import * as vscode from "vscode";

/** Sets one of our settings for the workspace; undefined: back to what it is by default. */
export const setTo = async (name: string, value: unknown): Promise<void> =>
  vscode.workspace.getConfiguration("anadem").update(name, value, vscode.ConfigurationTarget.Workspace);

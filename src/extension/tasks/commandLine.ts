import { join } from "node:path";
import type * as vscode from "vscode";

/** How the command line that comes with the extension is run, by the editor's own Node. */
export interface CommandLine {
  readonly program: string;
  /** Words before those of the command line itself. */
  readonly words: readonly string[];
  readonly env: Readonly<Record<string, string>>;
}

export const commandLine = ({
  extensionUri,
}: Pick<vscode.ExtensionContext, "extensionUri">): CommandLine => ({
  program: process.execPath,
  words: [join(extensionUri.fsPath, "dist", "anadem.mjs")],
  // On a desktop the program is the editor itself, which this makes a plain Node.
  env: { ELECTRON_RUN_AS_NODE: "1" },
});

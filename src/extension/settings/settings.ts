import { dirname, resolve } from "node:path";
import * as vscode from "vscode";

/** When a design is built without being asked for. */
export type RebuildMode = "onSave" | "whileTyping" | "off";

/** The settings under `anadem`, with what holds where nothing is set. The manifest names the same ones. */
const defaults = {
  rebuild: "onSave" as RebuildMode,
  /** ms without a key before a build while typing. */
  typingPause: 300,
  /** For the design's own code, s. */
  timeLimit: 10,
  /** For the design's own code, MB. */
  memoryLimit: 1024,
  /** Where exports go, relative to the design. */
  outputFolder: "out",
  codeLens: true,
};

type Settings = typeof defaults;

const limits: Partial<Record<keyof Settings, readonly [least: number, most: number]>> = {
  typingPause: [50, 5000],
  timeLimit: [1, 600],
  memoryLimit: [64, 8192],
};

/** A setting as it holds for a file; a value that it cannot have counts as not set, a number is brought into range. */
export function setting<K extends keyof Settings>(name: K, scope: vscode.Uri | undefined): Settings[K] {
  const preset = defaults[name];
  const value = vscode.workspace.getConfiguration("anadem", scope).get<unknown>(name);
  if (typeof value !== typeof preset) return preset;
  if (name === "rebuild" && !["onSave", "whileTyping", "off"].includes(value as string)) return preset;
  const range = limits[name];
  if (!range) return value as Settings[K];
  return Math.min(range[1], Math.max(range[0], value as number)) as Settings[K];
}

/** The folder that a design's files are exported to. */
export function outputFolderOf(design: vscode.Uri): string {
  const folder = setting("outputFolder", design).trim() || defaults.outputFolder;
  return resolve(dirname(design.fsPath), folder);
}

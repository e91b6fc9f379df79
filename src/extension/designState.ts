import type * as vscode from "vscode";
import type { DesignFacts, PlateFacts } from "../build/service/protocol";
import type { DesignHeader, ParameterValue } from "../design/part";
import type { Report } from "../export/report";
import type { Message } from "../message";

/** How the last build of a design stands. */
export type DesignStatus = "unbuilt" | "building" | "built" | "failed" | "cancelled";

export type PartyKind = "wearer" | "printer" | "material" | "print";

/** What is known of a design in the workspace, without its meshes. */
export interface DesignState {
  readonly uri: vscode.Uri;
  readonly status: DesignStatus;
  /** The last good result is older than the text. */
  readonly isOutdated: boolean;
  readonly stage?: string;
  readonly share?: number;
  /** Of the last build that ended. */
  readonly messages: readonly Message[];
  /** Of the last build that came so far. */
  readonly facts?: DesignFacts;
  readonly header?: DesignHeader;
  readonly plate?: PlateFacts;
  readonly report?: Report;
  /** Files that stand in for those that the design names, chosen by the person. */
  readonly chosen: Readonly<Partial<Record<PartyKind, vscode.Uri>>>;
  /** Values of parameters that differ from the file's. */
  readonly values: Readonly<Record<string, ParameterValue>>;
}

/** The designs of the workspace and what is done with them: what views, lenses and commands look at. */
export interface Designs {
  /** A design changed in anything. */
  readonly onDidChange: vscode.Event<vscode.Uri>;
  /** The state of a design, an empty one where it was never built. */
  state(design: vscode.Uri): DesignState;
  /** All designs that were looked at so far. */
  readonly known: readonly DesignState[];
  /** The design that is edited, or was last; undefined where none was. */
  readonly active: vscode.Uri | undefined;
  readonly onDidChangeActive: vscode.Event<vscode.Uri | undefined>;
  /** Builds; resolves with the state when that build ended in any way. */
  build(design: vscode.Uri): Promise<DesignState>;
  /** Resolves with the state once it is known how the last build is printed, or that it will not be known. */
  planned(design: vscode.Uri): Promise<DesignState>;
  cancel(design: vscode.Uri): void;
  /** Another wearer, printer, material or print settings for this design, without touching its file; undefined: the design's own. */
  choose(design: vscode.Uri, kind: PartyKind, file: vscode.Uri | undefined): Promise<void>;
  setValues(design: vscode.Uri, values: Readonly<Record<string, ParameterValue>>): Promise<void>;
}

/** A file of ours: what its name ends with. */
export const fileEndings = {
  design: ".headpiece.ts",
  wearer: ".wearer.json",
  printer: ".printer.json",
  material: ".material.json",
  print: ".print.json",
} as const;

import type * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import type { Jobs } from "../jobs";

/** A design beside its version in a commit. */
export function registerVersions(
  _context: vscode.ExtensionContext,
  _designs: Designs,
  _actions: DesignActions,
  _jobs: Jobs,
): void {}

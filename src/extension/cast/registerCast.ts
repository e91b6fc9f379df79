import type * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import type { Jobs } from "../jobs";

/** The plan of a cast. */
export function registerCast(
  _context: vscode.ExtensionContext,
  _designs: Designs,
  _actions: DesignActions,
  _jobs: Jobs,
): void {}

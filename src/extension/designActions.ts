import type * as vscode from "vscode";
import type { PlanOrientation } from "../preview/protocol";

/**
 * What can be done with a design beyond building it. Each takes the design that it is about; a failure that the
 * person must know of is told by the action itself, so that callers need not.
 */
export interface DesignActions {
  /** The design of the preview that has the focus; undefined where none has. */
  readonly focused: vscode.Uri | undefined;
  /** Shows the design's preview beside the code. `isLocked`: a view of its own that stays on this design. */
  showPreview(design: vscode.Uri, options?: { readonly isLocked?: boolean }): Promise<void>;
  /** Writes the design's files into the output folder; resolves to the folder, undefined when nothing was written. */
  export(design: vscode.Uri): Promise<vscode.Uri | undefined>;
  /** Shows what the last export of the design wrote. */
  showExported(design: vscode.Uri): Promise<void>;
  /** Writes the report that is kept beside the design for git; resolves to it, undefined when it was not written. */
  keepReport(design: vscode.Uri): Promise<vscode.Uri | undefined>;
  /** Writes the values of moved parameters into the design file, as an edit that can be undone. */
  writeParameters(design: vscode.Uri): Promise<boolean>;
  /** Writes into the design file which way up it is printed, as an edit that can be undone. */
  useOrientation(design: vscode.Uri, orientation: PlanOrientation["orientation"]): Promise<void>;
  /** Forgets moved parameters. */
  resetParameters(design: vscode.Uri): Promise<void>;
  /** Ends the engine's process; the next build starts another. */
  restartEngine(): Promise<void>;
  showLog(): void;
}

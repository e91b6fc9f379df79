import * as vscode from "vscode";
import type { Designs } from "../designState";
import type { WorkspaceFiles } from "../tree/workspaceFiles";
import { ownWearer, termsOf } from "./refitSubject";

/** What the person chose for the designs of a table, as it was when it was last looked at. */
export class ChosenParties {
  readonly #designs: Designs;
  readonly #files: WorkspaceFiles;
  readonly #terms = new Map<string, string>();
  readonly #wearers = new Map<string, string | undefined>();

  constructor(designs: Designs, files: WorkspaceFiles) {
    this.#designs = designs;
    this.#files = files;
  }

  /** The wearer that a design's preview shows it on, by the design's path. */
  get wearers(): ReadonlyMap<string, string | undefined> {
    return this.#wearers;
  }

  /** The designs of the table. */
  get paths(): readonly string[] {
    return [...this.#terms.keys()];
  }

  /** Looks at these designs from now on. */
  async of(paths: readonly string[]): Promise<void> {
    this.#terms.clear();
    for (const path of paths) {
      this.#terms.set(path, this.#termsText(path));
      await this.lookAtWearer(path);
    }
  }

  /** Whether printer, material, print settings or limits of a design of the table are others than before. */
  areTermsOther(path: string): boolean {
    const before = this.#terms.get(path);
    if (before === undefined) return false;
    const terms = this.#termsText(path);
    this.#terms.set(path, terms);
    return terms !== before;
  }

  /** Whether the preview of a design shows it on another wearer than before. */
  async lookAtWearer(path: string): Promise<boolean> {
    const uri = vscode.Uri.file(path);
    const { wearer } = this.#designs.state(uri).chosen;
    const chosen = (wearer ?? (await ownWearer(uri, this.#files)))?.fsPath;
    const isOther = chosen !== this.#wearers.get(path);
    this.#wearers.set(path, chosen);
    return isOther;
  }

  #termsText(path: string): string {
    return JSON.stringify(termsOf(path, this.#designs, undefined));
  }
}

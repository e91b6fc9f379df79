import * as vscode from "vscode";
import { realClock } from "../builds/clock";
import { isOutdated } from "../builds/designRecord";
import type { WorkspaceDesigns } from "../builds/workspaceDesigns";
import type { Jobs } from "../jobs";
import { type ComparisonRecord, Comparisons } from "./comparisons";
import { gitExecutable } from "./gitPath";

/** The comparisons of a window: each is made in a process of its own, which ends with it. */
export class WorkspaceComparisons implements vscode.Disposable {
  readonly #comparisons: Comparisons;
  readonly #changed = new vscode.EventEmitter<string>();
  readonly #building: vscode.Disposable;

  /** A design's comparison began, went on, ended or became outdated: its path. */
  readonly onDidChange = this.#changed.event;

  constructor(designs: WorkspaceDesigns, jobs: Jobs, log: vscode.LogOutputChannel) {
    const recordOf = (design: string) => designs.record(vscode.Uri.file(design));
    this.#comparisons = new Comparisons({
      async compare(request, onStage, signal) {
        const pool = jobs.pool(1);
        try {
          const onNews = ({ stage }: { readonly stage: string }) => onStage(stage);
          const done = await pool.do({ kind: "compare", request }, { onNews, signal });
          if (done.kind !== "compare") throw new Error(`a comparison was answered with a ${done.kind}`);
          return done.result;
        } finally {
          await pool.dispose();
        }
      },
      requestFor(design) {
        const request = designs.requestOf(vscode.Uri.file(design));
        const { texts, values, wearer, printer, material, print, timeLimitSeconds, memoryLimitMB } = request;
        const asked = { texts, values, wearer, printer, material, print, timeLimitSeconds, memoryLimitMB };
        const given = Object.entries(asked).filter(([, value]) => value !== undefined);
        return { design, git: gitOfWindow(), ...Object.fromEntries(given) };
      },
      changeOf: (design) => recordOf(design).change,
      hasMovedValues: (design) => Object.keys(recordOf(design).values).length > 0,
      isBuilt: (design) => recordOf(design).status === "built" && !isOutdated(recordOf(design)),
      changed: (design) => this.#changed.fire(design),
      failed: (error) => log.error(error instanceof Error ? error : String(error)),
      clock: realClock,
    });
    this.#building = designs.onDidBuildChange(({ record, change }) => {
      if (change === "ended" || change === "started" || change === "stale" || change === "settings") {
        this.#comparisons.onBuild(record.path);
      }
    });
  }

  /** How a design's comparison stands; undefined where it is shown alone. */
  of(design: vscode.Uri): ComparisonRecord | undefined {
    return this.#comparisons.of(design.fsPath);
  }

  /** Compares a design with a commit; resolves with how that came out, undefined when it was ended meanwhile. */
  compare(design: vscode.Uri, revision: string): Promise<ComparisonRecord | undefined> {
    return this.#comparisons.compare(design.fsPath, revision);
  }

  /** Compares a design again that was compared before the window was reloaded. */
  resume(design: vscode.Uri, revision: string): void {
    this.#comparisons.resume(design.fsPath, revision);
  }

  end(design: vscode.Uri): void {
    this.#comparisons.end(design.fsPath);
  }

  dispose(): void {
    this.#building.dispose();
    this.#comparisons.dispose();
    this.#changed.dispose();
  }
}

/** Git's executable as the person set it for this machine: what a workspace says is not asked. */
export const gitOfWindow = (): string =>
  gitExecutable(vscode.workspace.getConfiguration("git").inspect("path")?.globalValue);

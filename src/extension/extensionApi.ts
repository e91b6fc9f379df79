import { performance } from "node:perf_hooks";
import { type Event, Uri } from "vscode";
import type { StageTimes } from "../build/service/protocol";
import type { WorkspaceDesigns } from "./builds/workspaceDesigns";
import type { DesignActions } from "./designActions";
import type { Designs } from "./designState";
import type { EngineHost } from "./engine/engineHost";
import type { Jobs } from "./jobs";
import type { Drawn } from "./preview/previewPanel";
import type { PreviewPanels } from "./preview/previewPanels";
import type { StandingRow } from "./refit/knownRows";
import type { RefitPanels } from "./refit/refitPanels";
import type { ComparisonRecord } from "./versions/comparisons";
import type { WorkspaceComparisons } from "./versions/workspaceComparisons";

/** How one preview stands. */
export interface PreviewState {
  /** Of the design, as text; undefined where none is shown. */
  readonly design: string | undefined;
  readonly isLocked: boolean;
  /** The view has been made and takes messages. */
  readonly isReady: boolean;
  /** The last draft or solid that it drew, by the version of the build. */
  readonly drawn: Drawn | undefined;
  readonly onDidDraw: Event<Drawn>;
  /** The commit, by its short hash, that the picture shows the piece beside; undefined: none. */
  readonly comparedWith: string | undefined;
}

/** How the refit table stands. */
export interface RefitState {
  /** A table is open. */
  readonly isOpen: boolean;
  readonly phase: string;
  readonly rows: readonly StandingRow[];
  readonly onDidChange: Event<void>;
}

/** What the extension gives to those who look at it from outside: its own tests. */
export interface ExtensionApi {
  readonly designs: Designs;
  readonly actions: DesignActions;
  /** Id of the engine's process; undefined while none runs. */
  readonly engineProcessId: number | undefined;
  /** Ids of the processes that do jobs beside the engine. */
  readonly jobProcessIds: readonly number[];
  readonly previews: readonly PreviewState[];
  /** How a design's comparison with a commit stands; undefined where it has none. */
  comparison(design: Uri): ComparisonRecord | undefined;
  readonly refit: RefitState;
  /** How long the extension host was busy since it began, ms. */
  readonly hostBusy: number;
  /** Version and stage times (ms) of the last build of a design, by its path. */
  lastBuild(design: string): { readonly version: number; readonly times: StageTimes | undefined } | undefined;
}

/** The extension as its tests see it. */
export const apiOf = (
  designs: WorkspaceDesigns,
  actions: DesignActions,
  engine: EngineHost,
  panels: PreviewPanels,
  comparisons: WorkspaceComparisons,
  refits: RefitPanels,
  jobs: Jobs,
): ExtensionApi => ({
  designs,
  actions,
  get engineProcessId() {
    return engine.processId;
  },
  get jobProcessIds() {
    return jobs.processIds;
  },
  get previews() {
    return panels.all.map(({ design, isLocked, isReady, drawn, onDidDraw, comparedWith }) => ({
      design: design?.toString(),
      isLocked,
      isReady,
      drawn,
      onDidDraw,
      comparedWith,
    }));
  },
  comparison: (design) => comparisons.of(design),
  get refit() {
    const { shown, onDidChange } = refits;
    return {
      isOpen: shown !== undefined,
      phase: shown?.rows.run.phase ?? "idle",
      rows: shown?.rows.rows ?? [],
      onDidChange,
    };
  },
  get hostBusy() {
    return performance.eventLoopUtilization().active;
  },
  lastBuild(design) {
    const record = designs.record(Uri.file(design));
    return record.version > 0 ? { version: record.version, times: record.times } : undefined;
  },
});

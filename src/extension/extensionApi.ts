import { performance } from "node:perf_hooks";
import { type Event, Uri } from "vscode";
import type { StageTimes } from "../build/service/protocol";
import type { WorkspaceDesigns } from "./builds/workspaceDesigns";
import type { DesignActions } from "./designActions";
import type { Designs } from "./designState";
import type { EngineHost } from "./engine/engineHost";
import type { Drawn } from "./preview/previewPanel";
import type { PreviewPanels } from "./preview/previewPanels";

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
}

/** What the extension gives to those who look at it from outside: its own tests. */
export interface ExtensionApi {
  readonly designs: Designs;
  readonly actions: DesignActions;
  /** Id of the engine's process; undefined while none runs. */
  readonly engineProcessId: number | undefined;
  readonly previews: readonly PreviewState[];
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
): ExtensionApi => ({
  designs,
  actions,
  get engineProcessId() {
    return engine.processId;
  },
  get previews() {
    return panels.all.map(({ design, isLocked, isReady, drawn, onDidDraw }) => ({
      design: design?.toString(),
      isLocked,
      isReady,
      drawn,
      onDidDraw,
    }));
  },
  get hostBusy() {
    return performance.eventLoopUtilization().active;
  },
  lastBuild(design) {
    const record = designs.record(Uri.file(design));
    return record.version > 0 ? { version: record.version, times: record.times } : undefined;
  },
});

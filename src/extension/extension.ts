import * as vscode from "vscode";
import { WorkspaceDesigns } from "./builds/workspaceDesigns";
import { registerCast } from "./cast/registerCast";
import { keepContextKeys } from "./contextKeys";
import type { DesignActions } from "./designActions";
import { registerDesignCommands } from "./designCommands";
import { keepProblems } from "./diagnostics/keepProblems";
import { registerQuickFixes } from "./diagnostics/quickFixes";
import type { EngineHost } from "./engine/engineHost";
import { engineOfWindow } from "./engine/startEngine";
import { Exporting } from "./exporting";
import { apiOf, type ExtensionApi } from "./extensionApi";
import { registerHovers } from "./hovers/registerHovers";
import { type Jobs, jobsOfWindow } from "./jobs";
import { registerLanguageModel } from "./languageModel/registerLanguageModel";
import { registerLenses } from "./lenses/registerLenses";
import { registerMeasuring } from "./measuring/registerMeasuring";
import { writeOrientationInto } from "./preview/orientationFile";
import { writeParametersInto } from "./preview/parameterFile";
import { previewDeeds } from "./preview/previewDeeds";
import { PreviewPanels } from "./preview/previewPanels";
import { registerRefit } from "./refit/registerRefit";
import { registerReport } from "./report/registerReport";
import { registerChoosing } from "./statusBar/registerChoosing";
import { registerStatusBar } from "./statusBar/registerStatusBar";
import { registerTasks } from "./tasks/registerTasks";
import { registerTree } from "./tree/registerTree";
import { registerVersions } from "./versions/registerVersions";
import { WorkspaceComparisons } from "./versions/workspaceComparisons";
import { registerWizards } from "./wizards/registerWizards";

/** What stands around a design, each of which knows it only as `Designs`. */
const surroundings = [
  registerTree,
  registerStatusBar,
  registerChoosing,
  registerLenses,
  registerHovers,
  registerReport,
  registerLanguageModel,
  registerWizards,
  registerTasks,
  registerMeasuring,
  registerCast,
];

let engine: EngineHost | undefined;
let jobs: Jobs | undefined;

/** Wires the extension; nothing is built and no process is started before somebody looks at a design. */
export function activate(context: vscode.ExtensionContext): ExtensionApi {
  const log = vscode.window.createOutputChannel("Anadem", { log: true });
  const running = engineOfWindow(context.extensionUri, log);
  engine = running;
  const beside = jobsOfWindow(context.extensionUri);
  jobs = beside;
  const designs = new WorkspaceDesigns(context.workspaceState, running, log);
  const problems = keepProblems(context, designs, log);
  const comparisons = new WorkspaceComparisons(designs, beside, log);
  const panels = new PreviewPanels(
    context.extensionUri,
    designs,
    comparisons,
    previewDeeds(designs, running, log),
  );
  const exporting = new Exporting(designs, running, problems, log);
  context.subscriptions.push(log, designs, comparisons, panels);

  const actions: DesignActions = {
    get focused() {
      return panels.focused?.design;
    },
    showPreview: async (design, options) => panels.show(design, options?.isLocked ?? false),
    export: (design) => exporting.export(design),
    showExported: (design) => exporting.showExported(design),
    keepReport: (design) => exporting.keepReport(design),
    writeParameters: (design) => writeParametersInto(design, designs),
    useOrientation: (design, orientation) => writeOrientationInto(design, orientation),
    resetParameters: (design) => designs.setValues(design, {}),
    restartEngine: () => running.restart(),
    showLog: () => log.show(),
  };
  registerDesignCommands(context, designs, panels, actions);
  registerQuickFixes(context, problems);
  keepContextKeys(context, designs, panels, comparisons);
  registerVersions(context, designs, actions, comparisons);
  const refits = registerRefit(context, designs, actions, beside, log);
  for (const register of surroundings) register(context, designs, actions, beside);
  return apiOf(designs, actions, running, panels, comparisons, refits, beside);
}

/** Ends the engine's processes before the window is gone. */
export async function deactivate(): Promise<void> {
  await Promise.all([engine?.dispose(), jobs?.dispose()]);
  engine = undefined;
  jobs = undefined;
}

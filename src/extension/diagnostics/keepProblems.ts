import type * as vscode from "vscode";
import type { WorkspaceDesigns } from "../builds/workspaceDesigns";
import { Problems } from "./problems";

/** Keeps the problems of all designs as their last builds found them; they go when fixed and with the design. */
export function keepProblems(
  context: vscode.ExtensionContext,
  designs: WorkspaceDesigns,
  log: vscode.LogOutputChannel,
): Problems {
  const problems = new Problems(context.extensionUri);
  context.subscriptions.push(
    problems,
    designs.onDidBuildChange(({ record, change }) => {
      if (change === "gone") problems.show(record.path, []);
      if (change === "planned") problems.show(record.path, record.messages);
      // A cancelled build found nothing, so what the last one found still holds.
      if (change !== "ended" || record.status === "cancelled" || record.status === "building") return;
      problems.show(record.path, record.messages);
      const times = Object.entries(record.times ?? {}).map(
        ([stage, time]) => `${stage} ${Math.round(time)} ms`,
      );
      log.debug(`${record.status} ${record.path} (${times.join(", ")})`);
    }),
  );
  return problems;
}

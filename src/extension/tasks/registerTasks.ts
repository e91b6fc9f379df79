import * as vscode from "vscode";
import type { DesignActions } from "../designActions";
import type { Designs } from "../designState";
import { workspaceFiles } from "../tree/workspaceFiles";
import { commandLine } from "./commandLine";
import { type TaskDescription, taskName, taskOf, wordsOf } from "./taskCommand";

const type = "anadem";

/** Tasks that build designs by the command line. None in Restricted Mode. */
export function registerTasks(
  context: vscode.ExtensionContext,
  _designs: Designs,
  _actions: DesignActions,
): void {
  const files = () => workspaceFiles(context);
  const provider: vscode.TaskProvider = {
    async provideTasks() {
      if (!vscode.workspace.isTrusted) return [];
      const designs = await files().list("design");
      return designs.flatMap((design) => {
        const folder = vscode.workspace.getWorkspaceFolder(design);
        if (!folder) return [];
        const path = vscode.workspace.asRelativePath(design, false);
        return [taskFor({ type, command: "build", design: path }, folder, context)];
      });
    },
    resolveTask({ definition, scope, name }) {
      const task = taskOf(definition);
      const folder = typeof scope === "object" ? scope : vscode.workspace.workspaceFolders?.[0];
      if (!task || !folder || !vscode.workspace.isTrusted) return undefined;
      // The editor knows a task again only by the very definition that it asked with.
      return taskFor(task, folder, context, definition, name);
    },
  };
  context.subscriptions.push(vscode.tasks.registerTaskProvider(type, provider));
}

function taskFor(
  description: TaskDescription,
  folder: vscode.WorkspaceFolder,
  context: vscode.ExtensionContext,
  definition: vscode.TaskDefinition = { ...description },
  name = taskName(description),
): vscode.Task {
  const { program, words, env } = commandLine(context);
  const execution = new vscode.ProcessExecution(program, [...words, ...wordsOf(description)], {
    cwd: folder.uri.fsPath,
    env: { ...env },
  });
  const task = new vscode.Task(definition, folder, name, type, execution, "$anadem");
  task.group = vscode.TaskGroup.Build;
  task.detail = description.check
    ? vscode.l10n.t("compares with the report kept beside the design")
    : vscode.l10n.t("writes STL, report and drawing sheet");
  return task;
}

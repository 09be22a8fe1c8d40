import * as vscode from "vscode";
import { checkArguments, type CheckDefinition } from "./check-arguments.ts";

export const TASK_TYPE = "movewright";

/**
 * Offers `movewright check` as a task of each folder: the command line that comes with the extension, run by the editor's
 * own Node. Nothing of it goes through a shell, so any path is passed as it is.
 *
 * @param node The program that runs the extension itself; an editor that is a web page has none, and no tasks.
 */
export function registerCheckTasks(extension: vscode.Uri, node: string): vscode.Disposable {
  const program = vscode.Uri.joinPath(extension, "dist", "cli", "main.cjs").fsPath;

  const made = (definition: CheckDefinition, folder: vscode.WorkspaceFolder, name: string): vscode.Task | undefined => {
    const args = checkArguments(definition);
    // Files that are on no disk are checked by the server alone.
    if (!args || folder.uri.scheme !== "file") return undefined;
    // A desktop editor's program is no plain Node unless it is told to be.
    const options = { cwd: folder.uri.fsPath, env: { ELECTRON_RUN_AS_NODE: "1" } };
    const execution = new vscode.ProcessExecution(node, [program, ...args], options);
    const task = new vscode.Task(definition, folder, name, "Movewright", execution, matchers(folder));
    task.group = vscode.TaskGroup.Build;
    task.detail = definition.strict === true ? "Find what is wrong; fail with warnings too" : "Find what is wrong";
    task.presentationOptions = { clear: true };
    return task;
  };

  return vscode.tasks.registerTaskProvider(TASK_TYPE, {
    provideTasks: () =>
      (vscode.workspace.workspaceFolders ?? []).flatMap(
        (folder) => made({ type: TASK_TYPE, command: "check" }, folder, "check") ?? [],
      ),
    resolveTask({ definition, scope, name }) {
      const folder = typeof scope === "object" ? scope : vscode.workspace.workspaceFolders?.[0];
      return folder && made(definition as CheckDefinition, folder, name);
    },
  });
}

/** None where the server lists what is found in the whole workspace already: each problem would stand there twice. */
function matchers(folder: vscode.WorkspaceFolder): string[] {
  const settings = vscode.workspace.getConfiguration("movewright", folder.uri);
  return settings.get<boolean>("checkWorkspace", true) ? [] : ["$movewright"];
}

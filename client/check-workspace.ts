import * as vscode from "vscode";
import { CHECK_WORKSPACE_REQUEST, type CheckWorkspaceResult } from "../protocol/requests.ts";
import type { Ask } from "./server-link.ts";

export const CHECK_WORKSPACE_COMMAND = "movewright.checkWorkspace";

/** Checks every document of the workspace and says in one sentence what came of it. */
export async function checkWorkspace(ask: Ask): Promise<CheckWorkspaceResult> {
  const result = await ask<CheckWorkspaceResult>(CHECK_WORKSPACE_REQUEST, {});
  void tell(result);
  return result;
}

async function tell(result: CheckWorkspaceResult): Promise<void> {
  const show = "Show Problems";
  const hasFindings = result.errors + result.warnings + result.informations > 0;
  const say = result.errors > 0 ? vscode.window.showWarningMessage : vscode.window.showInformationMessage;
  const choice = await say(checkedWords(result), ...(hasFindings ? [show] : []));
  if (choice === show) await vscode.commands.executeCommand("workbench.actions.view.problems");
}

/** `12 documents checked: 2 errors, 1 warning.` */
export function checkedWords({ documents, of, errors, warnings, informations, stopped }: CheckWorkspaceResult): string {
  const counted = (count: number, noun: string): string[] =>
    count === 0 ? [] : [`${count} ${noun}${count === 1 ? "" : "s"}`];
  const found = [...counted(errors, "error"), ...counted(warnings, "warning"), ...counted(informations, "note")];
  const result = found.length === 0 ? "no findings" : found.join(", ");
  if (of === 0) return "This workspace holds no Movewright documents.";
  if (stopped) return `Stopped after ${documents} of ${of} documents: ${result} so far.`;
  return `${documents} document${documents === 1 ? "" : "s"} checked: ${result}.`;
}

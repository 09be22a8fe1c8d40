import * as vscode from "vscode";
import { CloseAction, ErrorAction, type CloseHandlerResult, type ErrorHandler } from "vscode-languageclient";
import { countEnds } from "./server-ends.ts";

/** Starts a server that ended again, says so once, and asks when it ends again and again. */
export function restartPolicy(): ErrorHandler {
  const ended = countEnds(() => Date.now());
  return {
    error: () => ({ action: ErrorAction.Continue }),
    closed(): CloseHandlerResult {
      const after = ended();
      if (after === "ask") {
        void askToRestart();
        return { action: CloseAction.DoNotRestart, handled: true };
      }
      if (after === "restart and tell") {
        void vscode.window.showWarningMessage("The Movewright server ended unexpectedly and was started again.");
      }
      return { action: CloseAction.Restart, handled: true };
    },
  };
}

async function askToRestart(): Promise<void> {
  const again = "Restart";
  const text = "The Movewright server keeps ending and was not started again. Its output says why.";
  if ((await vscode.window.showErrorMessage(text, again)) === again) {
    await vscode.commands.executeCommand("movewright.restartServer");
  }
}

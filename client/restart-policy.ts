import * as vscode from "vscode";
import { CloseAction, ErrorAction, type CloseHandlerResult, type ErrorHandler } from "vscode-languageclient";

/** A server that ends so often in this time is not started again by itself. */
const RESTARTS_CAP = 4;
const WINDOW_MS = 180_000;

/** Starts a server that ended again, says so once, and asks when it ends again and again. */
export function restartPolicy(): ErrorHandler {
  const ends: number[] = [];
  let told = false;
  return {
    error: () => ({ action: ErrorAction.Continue }),
    closed(): CloseHandlerResult {
      const now = Date.now();
      ends.push(now);
      if (ends.filter((end) => now - end < WINDOW_MS).length > RESTARTS_CAP) {
        void askToRestart();
        return { action: CloseAction.DoNotRestart, handled: true };
      }
      if (!told) {
        told = true;
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

import * as vscode from "vscode";
import { stagePage } from "../protocol/stage-page.ts";

/** Opens an empty panel beside the text, which keeps the focus. */
export function openStagePanel(view: string, extension: vscode.Uri): vscode.WebviewPanel {
  const place = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
  return vscode.window.createWebviewPanel(view, "Stage", place, options(extension));
}

/** Puts the stage's page into a panel, a new one or one that the editor restored. */
export function fillStagePanel(panel: vscode.WebviewPanel, extension: vscode.Uri): void {
  const { webview } = panel;
  const asset = (name: string) => webview.asWebviewUri(vscode.Uri.joinPath(root(extension), name)).toString();
  webview.options = options(extension);
  webview.html = stagePage({
    scriptUri: asset("stage.js"),
    styleUri: asset("stage.css"),
    cspSource: webview.cspSource,
    nonce: nonce(),
  });
}

function options(extension: vscode.Uri): vscode.WebviewOptions {
  return { enableScripts: true, localResourceRoots: [root(extension)] };
}

function root(extension: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(extension, "dist", "webview");
}

/** 32 random hexadecimal digits. */
function nonce(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(16)), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

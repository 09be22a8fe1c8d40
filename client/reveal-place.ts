import * as vscode from "vscode";
import type { TextPlace } from "../protocol/requests.ts";

/** Shows a place of a document, in the editor that has it already if there is one, and selects it. */
export async function revealPlace({ uri, range: { start, end } }: TextPlace): Promise<void> {
  const selection = new vscode.Range(start.line, start.character, end.line, end.character);
  const target = vscode.Uri.parse(uri);
  const open = vscode.window.visibleTextEditors.find((each) => each.document.uri.toString() === target.toString());
  await vscode.window.showTextDocument(target, { selection, viewColumn: open?.viewColumn ?? vscode.ViewColumn.One });
}

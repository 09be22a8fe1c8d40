import * as vscode from "vscode";
import type { MovewrightApi } from "../../../client/api.ts";

/** Long enough where other programs take most of the processor [ms]. */
const WAIT_MS = 60_000;

/** The extension's own id, as its package names it. */
export const EXTENSION_ID = "movewright.movewright";

/** The interface that the extension gives to other code, once it is active. */
export async function activated(): Promise<MovewrightApi> {
  const extension = vscode.extensions.getExtension<MovewrightApi>(EXTENSION_ID);
  if (extension === undefined) throw new Error(`${EXTENSION_ID} is not in this editor.`);
  return extension.activate();
}

/** The address of a file of the demo, given from its folder. */
export function demoUri(file: string): vscode.Uri {
  const [folder] = vscode.workspace.workspaceFolders ?? [];
  if (folder === undefined) throw new Error("No folder is open.");
  return vscode.Uri.joinPath(folder.uri, file);
}

/** Waits until `probe` gives a value. */
export async function until<T>(what: string, probe: () => T | undefined | PromiseLike<T | undefined>): Promise<T> {
  const end = Date.now() + WAIT_MS;
  for (;;) {
    const value = await probe();
    if (value !== undefined) return value;
    if (Date.now() > end) throw new Error(`Waited ${WAIT_MS / 1000} s in vain for ${what}.`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

/** The code of a diagnostic, whether or not it comes with a page. */
export function codeOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === "object" ? code.value : code);
}

/** Codes of what is reported for a document now. */
export function codesOf(uri: vscode.Uri): string[] {
  return vscode.languages.getDiagnostics(uri).map(codeOf);
}

/** The text of all hovers at a place, which the server gives once the move is solved. */
export async function hoverText(uri: vscode.Uri, position: vscode.Position): Promise<string> {
  const hovers = await vscode.commands.executeCommand<vscode.Hover[]>("vscode.executeHoverProvider", uri, position);
  return hovers
    .flatMap(({ contents }) => contents)
    .map((content) => (typeof content === "string" ? content : content.value))
    .join("\n");
}

/** The place of the first occurrence of `words` in a document. */
export function placeOf(document: vscode.TextDocument, words: string): vscode.Position {
  const at = document.getText().indexOf(words);
  if (at < 0) throw new Error(`"${words}" is not in ${document.uri.path}.`);
  return document.positionAt(at);
}

import * as vscode from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import type { MovewrightApi } from "./api.ts";
import { clientOptions } from "./client-options.ts";
import { startExtension } from "./start-extension.ts";

/** Entry in an editor that is a web page: the server is a web worker. */
export function activate(context: vscode.ExtensionContext): MovewrightApi {
  const script = vscode.Uri.joinPath(context.extensionUri, "dist", "server", "main-browser.js");
  const worker = new Worker(script.toString(true));
  return startExtension(context, new LanguageClient("movewright", "Movewright", clientOptions(context), worker));
}

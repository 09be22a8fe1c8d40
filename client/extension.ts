import * as vscode from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import type { MovewrightApi } from "./api.ts";
import { registerCheckTasks } from "./check-task.ts";
import { clientOptions } from "./client-options.ts";
import { startExtension } from "./start-extension.ts";

/** This module runs in Node alone; the others of the folder run in a web page too and are written without it. */
declare const process: { readonly execPath: string };

/** Entry on a desktop and on a remote host: the server is a process of its own. */
export function activate(context: vscode.ExtensionContext): MovewrightApi {
  const module = vscode.Uri.joinPath(context.extensionUri, "dist", "cli", "main.cjs").fsPath;
  context.subscriptions.push(registerCheckTasks(context.extensionUri, process.execPath));
  const server = { module, args: ["serve"], transport: TransportKind.ipc };
  return startExtension(context, new LanguageClient("movewright", "Movewright", server, clientOptions(context)));
}

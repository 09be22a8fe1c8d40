import * as vscode from "vscode";
import type { LanguageClientOptions, Middleware } from "vscode-languageclient";
import { DOCUMENT_GLOB, type InitializationOptions } from "../protocol/requests.ts";
import { restartPolicy } from "./restart-policy.ts";

/** Our documents keep the language ids of YAML and JSON; the file's name says what they are, in any file system. */
export function clientOptions(context: vscode.ExtensionContext): LanguageClientOptions {
  const page = vscode.Uri.joinPath(context.extensionUri, "docs", "reference", "findings.md");
  const options: InitializationOptions = {
    readFile: true,
    listFiles: true,
    findingsPage: page.toString(),
    commands: ownCommands(context.extension),
    // A copy of all of it: what the editor hands out is made of proxies, which can't be sent to a worker.
    settings: JSON.parse(JSON.stringify(vscode.workspace.getConfiguration().get("movewright") ?? {})),
  };
  return {
    documentSelector: [{ pattern: DOCUMENT_GLOB }],
    initializationOptions: options,
    errorHandler: restartPolicy(),
    middleware: { ...ofFilesAlone },
  };
}

/**
 * A document with a query in its address is another state of a file than the one that the server knows under this path, such
 * as the older text of a comparison: files that it names would be looked for in vain.
 */
const isFile = ({ uri }: vscode.TextDocument): boolean => uri.query === "";

const ofFilesAlone: Middleware = {
  didOpen: async (document, next) => void (isFile(document) && (await next(document))),
  didChange: async (event, next) => void (isFile(event.document) && (await next(event))),
  didClose: async (document, next) => void (isFile(document) && (await next(document))),
};

/** The package names every command that is registered; a test holds it to that. */
function ownCommands({ packageJSON }: vscode.Extension<unknown>): readonly string[] {
  const { contributes } = packageJSON as { contributes: { commands: readonly { command: string }[] } };
  return contributes.commands.map(({ command }) => command);
}

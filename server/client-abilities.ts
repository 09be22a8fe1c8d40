import { InsertTextMode, type ClientCapabilities, type InitializeParams } from "vscode-languageserver";
import { URI } from "vscode-uri";
import { isRecord } from "../core/base/is-record.ts";
import type { FileId } from "../core/base/span.ts";
import type { InitializationOptions } from "../protocol/requests.ts";
import { fileOfUri } from "./files/file-uri.ts";
import type { ClientAbilities } from "./session.ts";

export function clientAbilities(
  capabilities: ClientCapabilities,
  { commands = [] }: InitializationOptions = {},
): ClientAbilities {
  const { textDocument, window, workspace } = capabilities;
  const edits = workspace?.workspaceEdit;
  const operations = edits?.documentChanges ? (edits.resourceOperations ?? []) : [];
  return {
    pullsDiagnostics: textDocument?.diagnostic !== undefined && workspace?.diagnostics?.refreshSupport === true,
    refreshesLenses: workspace?.codeLens?.refreshSupport === true,
    refreshesTokens: workspace?.semanticTokens?.refreshSupport === true,
    refreshesInlayHints: workspace?.inlayHint?.refreshSupport === true,
    watchesFiles: workspace?.didChangeWatchedFiles?.dynamicRegistration === true,
    tellsFolders: workspace?.workspaceFolders === true,
    showsProgress: window?.workDoneProgress === true,
    asksSettings: workspace?.configuration === true,
    registersSettings: workspace?.didChangeConfiguration?.dynamicRegistration === true,
    takesActions: textDocument?.codeAction?.codeActionLiteralSupport !== undefined,
    resolvesActionEdits: textDocument?.codeAction?.resolveSupport?.properties.includes("edit") === true,
    changesFiles: operations.includes("create") && operations.includes("delete"),
    annotatesChanges: edits?.changeAnnotationSupport !== undefined,
    showsDisabledActions: textDocument?.codeAction?.disabledSupport === true,
    nestsSymbols: textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    preparesRename: textDocument?.rename?.prepareSupport === true,
    knowsSnippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    insertsAsIs:
      textDocument?.completion?.completionItem?.insertTextModeSupport?.valueSet.includes(InsertTextMode.asIs) === true,
    foldsWithSummary: textDocument?.foldingRange?.foldingRange?.collapsedText === true,
    commands: new Set(commands),
  };
}

/** Folders of the workspace; an older client tells one, as a uri or as a path alone. */
export function foldersOf({ workspaceFolders, rootUri, rootPath }: InitializeParams): readonly FileId[] {
  const root = rootUri ?? (rootPath ? URI.file(rootPath).toString() : undefined);
  const uris = workspaceFolders?.map((folder) => folder.uri) ?? (root ? [root] : []);
  return uris.map(folderOf);
}

/** A folder without a slash at its end, so that `folder + "/"` is in front of what it holds. */
export function folderOf(uri: string): FileId {
  return fileOfUri(uri).replace(/\/+$/, "");
}

/** What a client wrote into `initializationOptions`; anything of another shape counts as absent. */
export function readOptions(options: unknown): InitializationOptions {
  const given = isRecord(options) ? options : {};
  return {
    readFile: given.readFile === true,
    listFiles: given.listFiles === true,
    findingsPage: typeof given.findingsPage === "string" ? given.findingsPage : undefined,
    commands: Array.isArray(given.commands) ? given.commands.filter((name) => typeof name === "string") : [],
    settings: given.settings,
    progressAfter: isWait(given.progressAfter) ? given.progressAfter : undefined,
  };
}

function isWait(value: unknown): value is number {
  return typeof value === "number" && value >= 0 && value <= 3600;
}

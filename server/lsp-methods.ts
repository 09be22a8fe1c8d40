/** What the server does with a method of the protocol. */
export interface MethodRow {
  /** `able`: for clients that say at `initialize` that they can. */
  readonly offered: "yes" | "able" | "no";
  /**
   * Where the answer to `initialize` says so, or would if it were offered; `registered` when it is registered at the
   * client later. Absent for what needs no announcement.
   */
  readonly announced?: string;
  /** What for, or why not. */
  readonly note: string;
}

export interface MethodGroup {
  readonly title: string;
  readonly from: "client" | "server";
  readonly kind: "request" | "notification";
  readonly rows: Readonly<Record<string, MethodRow>>;
}

const always = (note: string): MethodRow => ({ offered: "yes", note });
const yes = (announced: string, note: string): MethodRow => ({ offered: "yes", announced, note });
const able = (announced: string, note: string): MethodRow => ({ offered: "able", announced, note });
const no = (announced: string, note: string): MethodRow => ({ offered: "no", announced, note });
const sent = (note: string): MethodRow => ({ offered: "yes", note });
const sentIfAble = (note: string): MethodRow => ({ offered: "able", note });
const never = (note: string): MethodRow => ({ offered: "no", note });

const NO_CALLS = "documents call nothing";
const NO_TYPES = "documents declare no types";
const NO_NOTEBOOKS = "documents are plain text files";
const NO_COLOURS = "documents hold no colours";
const FILES = "workspace.fileOperations";

const REQUESTS: MethodGroup["rows"] = {
  initialize: always("positions are UTF-16 always, which every client knows"),
  shutdown: always(""),
  "textDocument/hover": yes("hoverProvider", "values, limits, solved axes, what a field means"),
  "textDocument/completion": yes("completionProvider", "fields, names, words, values"),
  "completionItem/resolve": no("completionProvider.resolveProvider", "items come whole"),
  "textDocument/signatureHelp": no("signatureHelpProvider", NO_CALLS),
  "textDocument/definition": yes("definitionProvider", "names and files, across documents"),
  "textDocument/declaration": no("declarationProvider", "a name is declared where it is defined"),
  "textDocument/typeDefinition": no("typeDefinitionProvider", NO_TYPES),
  "textDocument/implementation": no("implementationProvider", NO_TYPES),
  "textDocument/references": yes("referencesProvider", "across all documents of the workspace"),
  "textDocument/documentHighlight": yes("documentHighlightProvider", "where a name is given, and where it is used"),
  "textDocument/documentSymbol": yes("documentSymbolProvider", "nested, or flat for clients that don't nest"),
  "textDocument/documentLink": yes("documentLinkProvider", "files that a document names"),
  "documentLink/resolve": no("documentLinkProvider.resolveProvider", "links come whole"),
  "textDocument/codeAction": able(
    "codeActionProvider",
    "cures of findings, one by one and all of a kind, other ways to write, conversion to JSON or YAML; nothing for clients that take commands alone (no `codeActionLiteralSupport`)",
  ),
  "codeAction/resolve": able("codeActionProvider.resolveProvider", "for edits that take time to be solved"),
  "textDocument/codeLens": yes("codeLensProvider", "peaks, findings, uses; to play where the client can"),
  "codeLens/resolve": yes("codeLensProvider.resolveProvider", "peaks of a move, the move that needs an axis most"),
  "textDocument/inlayHint": yes("inlayHintProvider", "times, solved axes, peaks"),
  "inlayHint/resolve": no("inlayHintProvider.resolveProvider", "hints come whole"),
  "textDocument/inlineValue": no("inlineValueProvider", "values of a debugger; inlay hints show the solved ones"),
  "textDocument/foldingRange": yes("foldingRangeProvider", "with a summary, where the client shows one"),
  "textDocument/selectionRange": yes("selectionRangeProvider", "value, field, key, list"),
  "textDocument/prepareRename": able("renameProvider.prepareProvider", ""),
  "textDocument/rename": yes("renameProvider", "across all documents of the workspace"),
  "textDocument/linkedEditingRange": no("linkedEditingRangeProvider", "rename does it, across documents"),
  "textDocument/formatting": yes(
    "documentFormattingProvider",
    "blanks and line ends alone; nothing while the text has faults",
  ),
  "textDocument/rangeFormatting": yes("documentRangeFormattingProvider", "whole lines"),
  "textDocument/onTypeFormatting": yes(
    "documentOnTypeFormattingProvider",
    "a line that is left, and its table; no indentation",
  ),
  "textDocument/semanticTokens/full": yes(
    "semanticTokensProvider",
    "fields, names by what they name, numbers, units, words",
  ),
  "textDocument/semanticTokens/full/delta": yes("semanticTokensProvider.full.delta", "one edit"),
  "textDocument/semanticTokens/range": yes("semanticTokensProvider.range", ""),
  "textDocument/diagnostic": able("diagnosticProvider", "pushed to clients that don't pull, or can't be told to again"),
  "workspace/diagnostic": able("diagnosticProvider.workspaceDiagnostics", "documents that are not open too"),
  "workspace/symbol": yes("workspaceSymbolProvider", "documents and what they name"),
  "workspaceSymbol/resolve": no("workspaceSymbolProvider.resolveProvider", "symbols come whole"),
  "workspace/executeCommand": no("executeCommandProvider", "changes are edits of code actions"),
  "textDocument/prepareCallHierarchy": no("callHierarchyProvider", NO_CALLS),
  "callHierarchy/incomingCalls": no("callHierarchyProvider", NO_CALLS),
  "callHierarchy/outgoingCalls": no("callHierarchyProvider", NO_CALLS),
  "textDocument/prepareTypeHierarchy": no("typeHierarchyProvider", NO_TYPES),
  "typeHierarchy/subtypes": no("typeHierarchyProvider", NO_TYPES),
  "typeHierarchy/supertypes": no("typeHierarchyProvider", NO_TYPES),
  "textDocument/documentColor": no("colorProvider", NO_COLOURS),
  "textDocument/colorPresentation": no("colorProvider", NO_COLOURS),
  "textDocument/moniker": no("monikerProvider", "names mean nothing outside their workspace"),
  "textDocument/willSaveWaitUntil": no("textDocumentSync.willSaveWaitUntil", "saving changes no text by itself"),
  "workspace/willCreateFiles": no(`${FILES}.willCreate`, "a new file changes no other"),
  "workspace/willRenameFiles": yes(
    `${FILES}.willRename`,
    "references to files and folders follow, from and to what is moved",
  ),
  "workspace/willDeleteFiles": no(`${FILES}.willDelete`, "a reference to what is gone is a finding"),
  "textDocument/inlineCompletion": no("inlineCompletionProvider", "proposed for 3.18"),
  "textDocument/rangesFormatting": no("documentRangeFormattingProvider.rangesSupport", "proposed for 3.18"),
};

const NOTIFICATIONS: MethodGroup["rows"] = {
  initialized: always(""),
  exit: always("the server ends with a client that goes away without it, too"),
  "$/cancelRequest": always("a cancelled request is answered at once"),
  "$/setTrace": always("taken, but nothing is traced"),
  "$/progress": never("no request of the server reports progress back"),
  "textDocument/didOpen": yes("textDocumentSync.openClose", ""),
  "textDocument/didChange": yes("textDocumentSync.change", "parts of the text, or all of it"),
  "textDocument/didClose": yes("textDocumentSync.openClose", ""),
  "textDocument/willSave": no("textDocumentSync.willSave", "what is checked is the text as it is typed"),
  "textDocument/didSave": yes("textDocumentSync.save", "the disk is looked at again for clients that watch no files"),
  "workspace/didChangeWatchedFiles": able("registered", "documents, URDF files, meshes"),
  "workspace/didChangeConfiguration": able("registered", "understood unregistered too, with the settings in it"),
  "workspace/didChangeWorkspaceFolders": yes("workspace.workspaceFolders", "several folders at once"),
  "workspace/didCreateFiles": no(`${FILES}.didCreate`, "watched files tell it, whoever made them"),
  "workspace/didRenameFiles": no(`${FILES}.didRename`, "watched files tell it, whoever renamed them"),
  "workspace/didDeleteFiles": no(`${FILES}.didDelete`, "watched files tell it, whoever deleted them"),
  "window/workDoneProgress/cancel": always(
    "documents that are not open rest until something changes or it is asked for",
  ),
  "notebookDocument/didOpen": no("notebookDocumentSync", NO_NOTEBOOKS),
  "notebookDocument/didChange": no("notebookDocumentSync", NO_NOTEBOOKS),
  "notebookDocument/didSave": no("notebookDocumentSync", NO_NOTEBOOKS),
  "notebookDocument/didClose": no("notebookDocumentSync", NO_NOTEBOOKS),
};

const SERVER_REQUESTS: MethodGroup["rows"] = {
  "client/registerCapability": sentIfAble("watched files and settings"),
  "client/unregisterCapability": never("what is registered stays"),
  "workspace/configuration": sentIfAble("section `movewright`; others send it, or `initializationOptions.settings`"),
  "workspace/workspaceFolders": never("changes of folders are told by notifications"),
  "workspace/diagnostic/refresh": sentIfAble("when a motion is solved, and when another file changed"),
  "workspace/codeLens/refresh": sentIfAble("when another file changed, and as moves are checked"),
  "workspace/inlayHint/refresh": sentIfAble("when another file changed, and with new settings"),
  "workspace/semanticTokens/refresh": sentIfAble("when another file changed, and when values are found out of a limit"),
  "workspace/inlineValue/refresh": never("no inline values are offered"),
  "workspace/foldingRange/refresh": never("proposed for 3.18; folds follow from the document alone"),
  "workspace/applyEdit": never("edits are answers to what the client asks"),
  "window/showMessageRequest": never("the server asks people nothing"),
  "window/showDocument": never("the client opens what it wants"),
  "window/workDoneProgress/create": sentIfAble("when documents that are not open take long to be checked"),
};

const SERVER_NOTIFICATIONS: MethodGroup["rows"] = {
  "textDocument/publishDiagnostics": sent("to clients that don't pull, of documents that are not open too"),
  "window/logMessage": sent("faults of the program"),
  "window/showMessage": sent("when no times fit the limits, and of a setting that is none"),
  "telemetry/event": never("nothing is collected"),
  "$/progress": sent("findings of the workspace in parts, where the client asks for parts; how far its check is"),
  "$/cancelRequest": never("what the server asks is answered soon"),
  "$/logTrace": never("`window/logMessage` tells of faults; all else is in the diagnostics"),
};

/** Every method of LSP 3.17, and those that were proposed with it. The reference page and its test are made from it. */
export const LSP_METHODS: readonly MethodGroup[] = [
  { title: "Requests of the client", from: "client", kind: "request", rows: REQUESTS },
  { title: "Notifications of the client", from: "client", kind: "notification", rows: NOTIFICATIONS },
  { title: "Requests of the server", from: "server", kind: "request", rows: SERVER_REQUESTS },
  { title: "Notifications of the server", from: "server", kind: "notification", rows: SERVER_NOTIFICATIONS },
];

import {
  CodeActionKind,
  PositionEncodingKind,
  TextDocumentSyncKind,
  type ServerCapabilities,
} from "vscode-languageserver";
import { CONVERT_KIND } from "./actions/convert-flow.ts";
import { FIX_ALL_KIND } from "./actions/fix-all-flow.ts";
import { DIAGNOSTIC_SOURCE } from "../protocol/requests.ts";
import { FORMATTING_LETTERS } from "./formatting-flow.ts";
import { RENAME_FILTERS } from "./files/file-rename.ts";
import type { ClientAbilities } from "./session.ts";
import { TOKEN_LEGEND } from "./tokens/tokens-flow.ts";

/** What the server answers to `initialize`. Positions are UTF-16 always: every client must know that encoding. */
export function serverCapabilities(client: ClientAbilities): ServerCapabilities {
  return {
    positionEncoding: PositionEncodingKind.UTF16,
    textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
    hoverProvider: true,
    completionProvider: { triggerCharacters: [" ", ":", "{", "[", ",", '"', "/", "-"] },
    definitionProvider: true,
    referencesProvider: true,
    documentHighlightProvider: true,
    renameProvider: client.preparesRename ? { prepareProvider: true } : true,
    workspaceSymbolProvider: true,
    selectionRangeProvider: true,
    foldingRangeProvider: true,
    semanticTokensProvider: { legend: TOKEN_LEGEND, full: { delta: true }, range: true },
    documentFormattingProvider: true,
    documentRangeFormattingProvider: true,
    documentOnTypeFormattingProvider: {
      firstTriggerCharacter: FORMATTING_LETTERS[0],
      moreTriggerCharacter: FORMATTING_LETTERS.slice(1),
    },
    inlayHintProvider: true,
    documentSymbolProvider: { label: "Movewright" },
    documentLinkProvider: {},
    ...(client.takesActions
      ? {
          codeActionProvider: {
            codeActionKinds: [CodeActionKind.QuickFix, CodeActionKind.RefactorRewrite, CONVERT_KIND, FIX_ALL_KIND],
            resolveProvider: client.resolvesActionEdits,
          },
        }
      : {}),
    codeLensProvider: { resolveProvider: true },
    ...(client.pullsDiagnostics
      ? {
          diagnosticProvider: {
            identifier: DIAGNOSTIC_SOURCE,
            interFileDependencies: true,
            workspaceDiagnostics: true,
          },
        }
      : {}),
    workspace: {
      workspaceFolders: { supported: true, changeNotifications: true },
      fileOperations: { willRename: { filters: RENAME_FILTERS } },
    },
  };
}

import {
  CompletionItemKind,
  InsertTextFormat,
  InsertTextMode,
  MarkupKind,
  SymbolKind,
  TextEdit,
  type CompletionItem,
  type DocumentSymbol,
  type MarkupContent,
  type SymbolInformation,
} from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Completion } from "./service/completion.ts";
import type { Symbol } from "./service/outline/symbols.ts";
import type { ClientAbilities } from "./session.ts";
import { toRange } from "./to-lsp.ts";

const COMPLETION_KINDS: Readonly<Record<Completion["kind"], CompletionItemKind>> = {
  field: CompletionItemKind.Property,
  name: CompletionItemKind.Reference,
  file: CompletionItemKind.File,
  word: CompletionItemKind.EnumMember,
  value: CompletionItemKind.Value,
  snippet: CompletionItemKind.Snippet,
};

export function markdown(value: string): MarkupContent {
  return { kind: MarkupKind.Markdown, value };
}

/** One proposal; with holes to fill in where the client knows snippets, else as plain text. */
export function toCompletionItem(document: TextDocument, item: Completion, client: ClientAbilities): CompletionItem {
  const { label, detail, doc, order, span, also } = item;
  const snippet = client.knowsSnippets ? item.snippet : undefined;
  return {
    label,
    kind: COMPLETION_KINDS[item.kind],
    detail,
    documentation: doc === undefined ? undefined : markdown(doc),
    sortText: order,
    filterText: label,
    insertTextFormat: snippet === undefined ? InsertTextFormat.PlainText : InsertTextFormat.Snippet,
    // Lines are indented already as those around them are.
    ...(item.snippet !== undefined && client.insertsAsIs ? { insertTextMode: InsertTextMode.asIs } : {}),
    textEdit: TextEdit.replace(toRange(document, span), snippet ?? item.text),
    ...(also ? { additionalTextEdits: [TextEdit.replace(toRange(document, also.span), also.text)] } : {}),
  };
}

const SYMBOL_KINDS: Readonly<Record<Symbol["kind"], SymbolKind>> = {
  section: SymbolKind.Namespace,
  axis: SymbolKind.Property,
  key: SymbolKind.Event,
  target: SymbolKind.Object,
  lens: SymbolKind.Object,
  item: SymbolKind.Object,
};

export function toDocumentSymbol(document: TextDocument, symbol: Symbol): DocumentSymbol {
  return {
    name: symbol.name,
    detail: symbol.detail,
    kind: SYMBOL_KINDS[symbol.kind],
    range: toRange(document, symbol.span),
    selectionRange: toRange(document, symbol.nameSpan),
    children: symbol.children.map((child) => toDocumentSymbol(document, child)),
  };
}

/** The same without nesting, for clients that know no other. */
export function toSymbolInformation(document: TextDocument, uri: string, symbol: Symbol): SymbolInformation[] {
  const one = (each: Symbol, containerName?: string): SymbolInformation => ({
    name: each.name,
    kind: SYMBOL_KINDS[each.kind],
    location: { uri, range: toRange(document, each.span) },
    containerName,
  });
  return [one(symbol), ...symbol.children.map((child) => one(child, symbol.name))];
}

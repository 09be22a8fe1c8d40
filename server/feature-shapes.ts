import {
  CompletionItemKind,
  InsertTextFormat,
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
import type { Symbol } from "./service/symbols.ts";
import { toRange } from "./to-lsp.ts";

const COMPLETION_KINDS: Readonly<Record<Completion["kind"], CompletionItemKind>> = {
  field: CompletionItemKind.Property,
  name: CompletionItemKind.Reference,
  file: CompletionItemKind.File,
  word: CompletionItemKind.EnumMember,
  value: CompletionItemKind.Value,
};

export function markdown(value: string): MarkupContent {
  return { kind: MarkupKind.Markdown, value };
}

export function toCompletionItem(document: TextDocument, item: Completion): CompletionItem {
  return {
    label: item.label,
    kind: COMPLETION_KINDS[item.kind],
    detail: item.detail,
    documentation: item.doc === undefined ? undefined : markdown(item.doc),
    sortText: item.order,
    filterText: item.label,
    insertTextFormat: InsertTextFormat.PlainText,
    textEdit: TextEdit.replace(toRange(document, item.span), item.text),
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

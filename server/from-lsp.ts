import type { Position, Range } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import type { Span } from "../core/base/span.ts";

/** Offset of a position, clamped to the document and its lines. UTF-16 on both sides. */
export function toOffset(document: TextDocument, position: Position): number {
  return document.offsetAt(position);
}

export function toSpan(document: TextDocument, range: Range): Span {
  const start = document.offsetAt(range.start);
  return { start, end: Math.max(start, document.offsetAt(range.end)) };
}

import type { TextCure } from "../base/problem.ts";

/** What replaces spans of one text. They don't overlap. */
export type TextEdits = TextCure["edits"];

/** The text with `edits` made; all else stays as it is. */
export function applyEdits(text: string, edits: TextEdits): string {
  const backwards = [...edits].sort((one, other) => other.span.start - one.span.start);
  return backwards.reduce((now, { span, text: put }) => now.slice(0, span.start) + put + now.slice(span.end), text);
}

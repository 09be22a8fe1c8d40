import type { TextCure } from "../base/problem.ts";

/** What replaces spans of one text. They don't overlap. */
export type TextEdits = TextCure["edits"];

/** The text with `edits` made; all else stays as it is. */
export function applyEdits(text: string, edits: TextEdits): string {
  // Where one begins at the place of an insertion, that one is made first: offsets before it stay true.
  const backwards = [...edits].sort(({ span: one }, { span: other }) => other.start - one.start || other.end - one.end);
  return backwards.reduce((now, { span, text: put }) => now.slice(0, span.start) + put + now.slice(span.end), text);
}

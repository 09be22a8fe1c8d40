import type { Span } from "../base/span.ts";
import { indexLines } from "../syntax/lines.ts";
import type { Tree } from "../syntax/tree.ts";
import { alignTables } from "./align-tables.ts";
import { jsonTokens } from "./json-tokens.ts";
import { STEP, type LayoutToken } from "./layout-token.ts";
import { meansTheSame } from "./same-meaning.ts";
import { spacesBetween } from "./spacing.ts";
import { yamlTokens } from "./yaml-tokens.ts";

export interface LayoutOptions {
  /** Lines up the columns of key tables. */
  readonly alignKeys: boolean;
  /** One step of indentation in JSON: blanks or a tab. YAML has two blanks always. */
  readonly jsonStep: string;
}

export const DEFAULT_LAYOUT: LayoutOptions = { alignKeys: true, jsonStep: "  " };

/** Blanks and line ends that become others. In order of place; they touch no other character. */
export type LayoutEdits = readonly LayoutEdit[];

export interface LayoutEdit {
  readonly span: Span;
  readonly text: string;
}

export type Layout = { readonly edits: LayoutEdits } | { readonly refusal: string };

/** A document to lay out. */
export interface LaidText {
  readonly text: string;
  readonly format: "yaml" | "json";
  readonly tree: Tree;
  /** Parses another version of the text. */
  readonly parse: (text: string) => Tree;
}

/**
 * The edits that bring a document into its layout, or why it is left as it is. What the document says, its comments and every
 * spelling stay: the new text is read before it is given out.
 */
export function layOut(laid: LaidText, options: LayoutOptions): Layout {
  const refusal = faultOf(laid);
  if (refusal !== undefined) return { refusal };
  const edits = layoutEdits(laid, options);
  if (keepsMeaning(laid, edits)) return { edits };
  return { refusal: "its layout could not be changed without changing what it says" };
}

/** What keeps a text from being laid out: a fault in it, with its line. */
export function faultOf({ text, tree }: LaidText): string | undefined {
  const fault = tree.problems.find(({ code }) => code !== "duplicate-name" && code !== "too-many-aliases");
  if (!fault) return undefined;
  return `line ${indexLines(text).position(fault.span.start).line + 1}: ${fault.message}`;
}

/** Whether a text says the same after `edits`. */
export function keepsMeaning({ text, tree, parse }: LaidText, edits: LayoutEdits): boolean {
  return edits.length === 0 || meansTheSame(tree, parse(edited(text, edits)));
}

/** The text after edits that are in order of place. */
export function edited(text: string, edits: LayoutEdits): string {
  let at = 0;
  const parts: string[] = [];
  for (const { span, text: put } of edits) {
    parts.push(text.slice(at, span.start), put);
    at = span.end;
  }
  return parts.join("") + text.slice(at);
}

/** The edits of a layout, not yet proven to keep what the text says, which must be without faults. */
export function layoutEdits({ text, format }: LaidText, { alignKeys, jsonStep }: LayoutOptions): LayoutEdits {
  const isJson = format === "json";
  const { tokens, keepsEnd } = isJson ? { tokens: jsonTokens(text), keepsEnd: false } : yamlTokens(text);
  if (tokens.length === 0) return [];
  const gaps = tokens.map((token, idx) => (idx === 0 ? 0 : spacesBetween(text, tokens[idx - 1], token)));
  if (alignKeys) alignTables(text, tokens, gaps);
  const indent = (column: number): string => (isJson ? jsonStep.repeat(column / STEP) : " ".repeat(column));
  const lineEnd = /\r\n|\n/.exec(text)?.[0] ?? "\n";
  const edits: LayoutEdit[] = [];
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  tokens.forEach((token, idx) => {
    const written = text.slice(at, token.start);
    const starts = token.breaks > 0 ? lineEndsOf(written, token, lineEnd) : "";
    const blanks = token.breaks > 0 || idx === 0 ? indent(token.column) : " ".repeat(gaps[idx]);
    edits.push(...gapEdits(text, at, token.start, starts + blanks));
    at = token.end;
  });
  if (!keepsEnd) edits.push(...gapEdits(text, at, text.length, /\r\n|\n/.exec(text.slice(at))?.[0] ?? lineEnd));
  return edits;
}

/** Line ends as they stand, at most one blank line of them where they mean nothing. */
function lineEndsOf(written: string, { breaks, keepsBreaks }: LayoutToken, lineEnd: string): string {
  const ends = written.match(/\r\n|\n|\r/g) ?? [];
  return Array.from({ length: keepsBreaks ? breaks : Math.min(breaks, 2) }, (_, n) => ends[n] ?? lineEnd).join("");
}

/** What makes the blanks from `start` to `end` into `now`, each line by itself. */
function gapEdits(text: string, start: number, end: number, now: string): LayoutEdit[] {
  const written = text.slice(start, end);
  // A return without a line feed would become one of a pair.
  if (written === now || text[start - 1] === "\r") return [];
  const trailing = /^[^\r\n]*(?=[\r\n])/.exec(written)?.[0].length ?? 0;
  const edits: LayoutEdit[] = [];
  if (trailing > 0 && /^[\r\n]/.test(now)) edits.push({ span: { start, end: start + trailing }, text: "" });
  const from = edits.length > 0 ? start + trailing : start;
  const rest = text.slice(from, end);
  let same = 0;
  while (same < rest.length && rest[same] === now[same]) same += 1;
  if (now[same - 1] === "\r") same -= 1;
  if (rest !== now) edits.push({ span: { start: from + same, end }, text: now.slice(same) });
  return edits;
}

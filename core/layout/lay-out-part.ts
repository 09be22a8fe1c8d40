import type { Span } from "../base/span.ts";
import { parseTree } from "../syntax/parse.ts";
import type { Tree } from "../syntax/tree.ts";
import { faultOf, keepsMeaning, layoutEdits, type LaidText, type LayoutEdits, type LayoutOptions } from "./lay-out.ts";

/**
 * The edits of the layout that lie in the lines of `span`. Where lines moved alone would say something else than in the
 * document as it stands around them, they keep their indentation. None for a text with faults.
 */
export function layOutLines(laid: LaidText, options: LayoutOptions, span: Span): LayoutEdits {
  if (faultOf(laid) !== undefined) return [];
  const lines = linesOf(laid.text, span);
  const edits = layoutEdits(laid, options).filter(
    (edit) => lines.start <= edit.span.start && edit.span.end <= lines.end,
  );
  if (keepsMeaning(laid, edits)) return edits;
  const inner = edits.filter((edit) => isInner(laid.text, edit));
  return keepsMeaning(laid, inner) ? inner : [];
}

/** A letter that was typed, and where the cursor is behind it. */
export interface Typed {
  readonly letter: string;
  readonly cursor: number;
}

/**
 * The edits of the layout that fit while somebody types: blanks within the line that is finished, and within the key table that
 * it belongs to. No indentation changes, since what is typed next goes by it, and nothing at the cursor.
 */
export function layOutTyped(laid: LaidText, options: LayoutOptions, { letter, cursor }: Typed): LayoutEdits {
  if (faultOf(laid) !== undefined) return [];
  const { text } = laid;
  const line = linesOf(text, { start: cursor, end: cursor });
  const finished = letter === "\n" ? linesOf(text, { start: line.start - 1, end: line.start - 1 }) : line;
  if (letter === "\n" && line.start === 0) return [];
  const lines = tableAround(text, finished, letter === "\n" ? "above" : "both");
  if (!lines) return [];
  const edits = alone(laid, options, lines).filter((edit) => {
    return isInner(text, edit) && (edit.span.end < cursor || cursor < edit.span.start);
  });
  return keepsMeaning(laid, edits) ? edits : [];
}

/** The layout of some lines as if there were no others, so that a long document is no slower to type in. */
function alone({ text, format }: LaidText, options: LayoutOptions, { start, end }: Span): LayoutEdits {
  const part = text.slice(start, text.indexOf("\n", end) + 1 || text.length);
  const parse = (version: string): Tree => parseTree(version, format);
  const tree = parse(part);
  // A line of JSON is no JSON by itself, but its tokens are what they are.
  if (format === "yaml" && faultOf({ text: part, format, tree, parse }) !== undefined) return [];
  return layoutEdits({ text: part, format, tree, parse }, options).map((edit) => ({
    ...edit,
    span: { start: edit.span.start + start, end: edit.span.end + start },
  }));
}

/** From the beginning of the line in which a span starts to the end of that in which it ends, without its line end. */
function linesOf(text: string, { start, end }: Span): Span {
  const close = text.indexOf("\n", end);
  const last = close < 0 ? text.length : text[close - 1] === "\r" ? close - 1 : close;
  return { start: text.lastIndexOf("\n", start - 1) + 1, end: last };
}

const ROW = /^[ \t]*(?:- *)?[{[].*[}\]],?[ \t]*(?:#.*)?$/;

/** Most rows of a table that is lined up while somebody types in it; a longer one waits until the document is formatted. */
const MOST_ROWS = 400;

/** A line with those above and below it that look like rows of the same table; `undefined` where they are too many. */
function tableAround(text: string, line: Span, where: "above" | "both"): Span | undefined {
  const isRow = ({ start, end }: Span): boolean => ROW.test(text.slice(start, end));
  let { start, end } = line;
  let rows = 1;
  if (!isRow(line)) return line;
  while (start > 0 && rows <= MOST_ROWS) {
    const above = linesOf(text, { start: start - 1, end: start - 1 });
    if (!isRow(above)) break;
    start = above.start;
    rows += 1;
  }
  while (where === "both" && rows <= MOST_ROWS) {
    const next = text.indexOf("\n", end) + 1;
    const below = next > 0 ? linesOf(text, { start: next, end: next }) : undefined;
    if (!below || !isRow(below)) break;
    end = below.end;
    rows += 1;
  }
  return rows > MOST_ROWS ? undefined : { start, end };
}

/** True for blanks between two pieces of a line, or at its end; not for those behind a dash, which indent what follows. */
function isInner(text: string, { span, text: put }: LayoutEdits[number]): boolean {
  if (/[\r\n]/.test(put) || /[\r\n]/.test(text.slice(span.start, span.end))) return false;
  return /[^\s?-]/.test(text.slice(text.lastIndexOf("\n", span.start - 1) + 1, span.start));
}

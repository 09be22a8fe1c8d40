import type { Span } from "../base/span.ts";
import type { ListNode } from "../syntax/tree.ts";
import { applyEdits, type TextEdits } from "./apply-edits.ts";
import { columnOf, lineEndAt, lineEndOf, type Rewriting, type Written } from "./field-edits.ts";

/**
 * Puts the items of a list in another order, each with the comments behind it, below it at its own height, and directly
 * above it. Blank lines and comments that stand apart stay where they are.
 *
 * @param order For each place, the item that comes there.
 * @param inner Edits inside of items, made before they go to their places.
 */
export function reorderItems(
  written: Written,
  list: ListNode,
  order: readonly number[],
  inner: TextEdits = [],
): Rewriting {
  const isFlow = list.flow || written.tree.format === "json";
  const places = isFlow ? flowPlaces(written, list) : blockPlaces(written, list);
  if ("refusal" in places) return places;
  const pieces = places.slots.map((slot) => pieceOf(written.text, slot, inner));
  const end = lineEndOf(written.text);
  const edits = places.slots.map((span, at) => {
    const piece = pieces[order[at]];
    if (isFlow) return { span, text: piece };
    // The last line of a text may have no end: the item that comes there takes its place without one.
    const ends = written.text.slice(span.start, span.end).endsWith("\n");
    return { span, text: ends ? piece + (piece.endsWith("\n") ? "" : end) : piece.replace(/\r?\n$/, "") };
  });
  const tails = places.tails.map((span, at) => {
    const from = places.tails[order[at]];
    return { span, text: written.text.slice(from.start, from.end) };
  });
  const changed = [...edits, ...tails].filter(({ span, text }) => written.text.slice(span.start, span.end) !== text);
  return { edits: changed };
}

/** Spans that change places, and those of the comments behind them where a comma stands between. */
interface Places {
  readonly slots: readonly Span[];
  readonly tails: readonly Span[];
}

function pieceOf(text: string, { start, end }: Span, inner: TextEdits): string {
  const own = inner.filter(({ span }) => start <= span.start && span.end <= end);
  const shifted = own.map((edit) => ({
    span: { start: edit.span.start - start, end: edit.span.end - start },
    text: edit.text,
  }));
  return applyEdits(text.slice(start, end), shifted);
}

const EMPTY = { refusal: "an item of the list is empty" };

function blockPlaces({ text }: Written, list: ListNode): Places | { readonly refusal: string } {
  const column = columnOf(text, list.start);
  const slots: Span[] = [];
  for (const item of list.items) {
    if (!item) return EMPTY;
    const before = slots[slots.length - 1]?.end ?? 0;
    const dash = dashLine(text, item.start, column, before);
    if (dash === undefined) return { refusal: "the dashes of the list do not begin their lines" };
    let start = dash;
    for (let above = lineBefore(text, start); above !== undefined && before <= above;) {
      if (!isComment(text, above, (at) => at <= column)) break;
      start = above;
      above = lineBefore(text, start);
    }
    let end = text[item.end - 1] === "\n" ? item.end : nextLine(text, item.end);
    while (end < text.length && isComment(text, end, (at) => column < at)) end = nextLine(text, end);
    slots.push({ start, end });
  }
  return { slots, tails: [] };
}

/** The beginning of the line whose dash, in `column`, leads to the item at `from`. */
function dashLine(text: string, from: number, column: number, least: number): number | undefined {
  for (let line: number | undefined = from - columnOf(text, from); line !== undefined && least <= line;) {
    const dash = line + column;
    if (/^[ ]*$/.test(text.slice(line, dash)) && /^-\s/.test(text.slice(dash, dash + 2))) return line;
    line = lineBefore(text, line);
  }
  return undefined;
}

const lineBefore = (text: string, line: number): number | undefined =>
  line === 0 ? undefined : line - 1 - columnOf(text, line - 1);

function nextLine(text: string, offset: number): number {
  const end = text.indexOf("\n", offset);
  return end < 0 ? text.length : end + 1;
}

/** Whether a line holds a comment alone, at a column that `isRight`. */
function isComment(text: string, line: number, isRight: (column: number) => boolean): boolean {
  const match = /^[ \t]*#/.exec(text.slice(line, lineEndAt(text, line)));
  return match !== null && isRight(match[0].length - 1);
}

const BETWEEN = { refusal: "a comment stands between items on one line: give each its own line first" };

function flowPlaces(written: Written, list: ListNode): Places | { readonly refusal: string } {
  const { text, tree } = written;
  const items = list.items.flatMap((item) => (item ? [item] : []));
  if (items.length !== list.items.length) return EMPTY;
  const isOutside = ({ start }: Span): boolean => !items.some((item) => item.start <= start && start < item.end);
  const comments = tree.comments.filter((one) => list.start <= one.start && one.end <= list.end && isOutside(one));
  if (comments.length === 0) return { slots: items.map(({ start, end }) => ({ start, end })), tails: [] };
  const slots: Span[] = [];
  const tails: Span[] = [];
  for (const item of items) {
    const line = item.start - columnOf(text, item.start);
    const behind = item.end + (/^\s*,/.exec(text.slice(item.end, list.end))?.[0].length ?? 0);
    const rest = text.slice(behind, lineEndAt(text, behind));
    if (text.slice(line, item.start).trim() !== "" || !/^[ \t]*(#.*)?$/.test(rest)) return BETWEEN;
    let start = line;
    for (let above = lineBefore(text, start); above !== undefined && list.start < above;) {
      if (!isComment(text, above, () => true)) break;
      start = above;
      above = lineBefore(text, start);
    }
    slots.push({ start, end: item.end });
    tails.push({ start: behind, end: behind + rest.trimEnd().length });
  }
  return { slots, tails };
}

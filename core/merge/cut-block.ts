import type { ListNode, MapNode, TreeNode } from "../syntax/tree.ts";
import { isNote, lineStart, nextLine, shifted } from "./lines.ts";
import type { Cut, Part, Region } from "./part.ts";
import { NotCut, type Side } from "./sides.ts";

/** A child before its text is taken apart. */
interface Child {
  readonly name: string;
  readonly node: TreeNode | undefined;
  /** Where its name or its dash begins. */
  readonly start: number;
  /** Where its name or its dash ends. */
  readonly headEnd: number;
  /** Where its value ends. */
  readonly end: number;
}

/** The column in which the parts of a block begin. */
export function blockColumn(text: string, node: MapNode | ListNode): number {
  const start = node.kind === "map" ? (node.entries[0]?.start ?? node.start) : node.start;
  return start - lineStart(text, start);
}

/**
 * Takes a block apart by whole lines. A comment belongs to the part below it, or to the one above when it stands deeper than
 * that one. Throws `NotCut` where the text is laid out in another way.
 *
 * @param region Where the block stands, from the beginning of a line on unless it is inline.
 * @param shift  Columns by which all lines move to the right.
 */
export function cutBlock(side: Side, node: MapNode | ListNode, region: Region, shift: number): Cut {
  const { text } = side;
  const column = blockColumn(text, node);
  const children = node.kind === "map" ? childrenOfMap(text, node) : childrenOfList(text, node, column);
  if (children.length === 0) throw new NotCut("An empty block.");
  let from = region.start;
  const parts = children.map((child, i): Part => {
    const isInline = i === 0 && region.inline;
    const line = isInline ? child.start : lineStart(text, child.start);
    const lead = text.slice(from, line);
    const isPlaced = isInline || text.slice(line, child.start) === " ".repeat(column);
    if (line < from || !isNote(lead) || !isPlaced) throw new NotCut("A part does not begin its line.");
    const next = children[i + 1];
    from = endOf(text, child.end, column, next ? lineStart(text, next.start) : region.end);
    return partOf(side, child, shifted(lead, shift, "first too"), from, shift);
  });
  const close = text.slice(from, region.end);
  if (region.end < from || !isNote(close)) throw new NotCut("Something follows the last part.");
  return {
    node,
    flow: false,
    inline: region.inline,
    column: column + shift,
    open: "",
    parts,
    close: shifted(close, shift, "first too"),
  };
}

function childrenOfMap(text: string, node: MapNode): Child[] {
  return node.entries.map(({ name, nameSpan, value, start, end }) => {
    const colon = /^[ \t]*:/.exec(text.slice(nameSpan.end, nameSpan.end + 80))?.[0].length;
    if (colon === undefined) throw new NotCut("A name without its colon.");
    const headEnd = nameSpan.end + colon;
    return { name, node: value, start, headEnd, end: Math.max(end, headEnd) };
  });
}

function childrenOfList(text: string, node: ListNode, column: number): Child[] {
  let least = node.start;
  return node.items.map((item, i) => {
    if (!item) throw new NotCut("An empty item.");
    const start = i === 0 ? node.start : dashBefore(text, item.start, column, least);
    if (text[start] !== "-") throw new NotCut("An item without its dash.");
    least = item.end;
    return { name: "", node: item, start, headEnd: start + 1, end: item.end };
  });
}

/** The dash in `column` that leads to the item at `from`. */
function dashBefore(text: string, from: number, column: number, least: number): number {
  for (let line = lineStart(text, from); least <= line; line = lineStart(text, line - 1)) {
    if (/^ *-\s$/.test(text.slice(line, line + column + 2))) return line + column;
    if (line === 0) break;
  }
  throw new NotCut("The dashes of a list do not stand in one column.");
}

/** The end of the last line of a part, with the comments below that stand deeper than the part. */
function endOf(text: string, valueEnd: number, column: number, limit: number): number {
  let end = text[valueEnd - 1] === "\n" ? valueEnd : nextLine(text, valueEnd);
  for (let line = end; line < limit; line = nextLine(text, line)) {
    const start = /^[ \t]*/.exec(text.slice(line, nextLine(text, line)))?.[0].length ?? 0;
    const mark = text[line + start];
    if (mark === "#" && column < start) end = nextLine(text, line);
    else if (mark !== "\n" && mark !== "\r") break;
  }
  return end;
}

function partOf(side: Side, child: Child, lead: string, end: number, shift: number): Part {
  const { text } = side;
  const { name, node, start } = child;
  const region = valueRegion(text, child, end);
  const tail = text.slice(region.end, end);
  if (!isNote(tail)) throw new NotCut("Something follows a value on its line.");
  const inner = (from: number, to: number): string => shifted(text.slice(from, to), shift, "later lines");
  return {
    side,
    name,
    node,
    lead,
    head: inner(start, region.start),
    value: shifted(text.slice(region.start, region.end), shift, region.inline ? "later lines" : "first too"),
    tail: inner(region.end, end),
    region,
    span: { start, end },
  };
}

const isBlock = (node: TreeNode): boolean => (node.kind === "map" || node.kind === "list") && !node.flow;

/** The rest of a line behind a name or a dash where the value begins below: marks of anchors and tags, a comment. */
const REST = /^[ \t]*(?:[&!][^\s#]*[ \t]*)*(?:(?<=[ \t])#[^\n]*)?\r?\n$/;

function valueRegion(text: string, { node, headEnd, end: valueEnd }: Child, end: number): Region {
  if (!node) return { start: headEnd, end: headEnd, inline: true };
  if (!isBlock(node)) {
    if (node.start < headEnd) throw new NotCut("A value before its name.");
    return { start: node.start, end: valueEnd, inline: true };
  }
  if (/^[ \t]*$/.test(text.slice(headEnd, node.start))) return { start: node.start, end, inline: true };
  const below = nextLine(text, headEnd);
  if (!REST.test(text.slice(headEnd, below))) throw new NotCut("A block that begins on the line of its name.");
  return { start: below, end, inline: false };
}

import type { ListNode, MapNode } from "../syntax/tree.ts";
import type { TextEdits } from "./apply-edits.ts";
import { columnOf, fieldText, flowMap, lineEndAt, lineEndOf, type Written } from "./field-edits.ts";

/** Fields by name, values as YAML spells them. */
export type Fields = readonly (readonly [string, string])[];

/** Puts a map of fields into a list behind its item `after`, laid out as that item is. */
export function insertItem(written: Written, list: ListNode, after: number, fields: Fields): TextEdits | undefined {
  const item = list.items[after];
  if (item?.kind !== "map") return undefined;
  const { text, tree } = written;
  if (list.flow || tree.format === "json") {
    const { between, value } = flowItem(written, list, after, item, fields);
    return [{ span: { start: item.end, end: item.end }, text: between + value }];
  }
  const lineEnd = lineEndOf(text);
  const dash = " ".repeat(columnOf(text, list.start));
  // What follows the mark of an item stands in one column.
  const gap = " ".repeat(Math.max(1, columnOf(text, item.start) - dash.length - 1));
  const inner = lineEnd + dash + " " + gap;
  const lines = fields.map(([name, value]) => fieldText(tree, name, value)).join(inner);
  const value = `${dash}-${gap}${item.flow ? flowMap(tree, fields) : lines}`;
  // A block of text ends with its line.
  if (text[item.end - 1] === "\n") return [{ span: { start: item.end, end: item.end }, text: value + lineEnd }];
  const end = lineEndAt(text, item.end);
  return [{ span: { start: end, end }, text: lineEnd + value }];
}

/** An item of a list in brackets, and what stands before it. */
function flowItem(
  { text, tree }: Written,
  { items }: ListNode,
  after: number,
  item: MapNode,
  fields: Fields,
): { readonly between: string; readonly value: string } {
  const next = items[after + 1];
  const gap = next ? text.slice(item.end, next.start) : "";
  const between = /^\s*,\s*$/.test(gap) ? gap : ", ";
  const [first] = item.entries;
  // An item of one line, or one whose fields have a line each.
  if (!first || !text.slice(item.start, first.start).includes("\n")) return { between, value: flowMap(tree, fields) };
  const lineEnd = lineEndOf(text);
  const inner = lineEnd + indentAt(text, first.start);
  const close = lineEnd + indentAt(text, item.end - 1);
  const lines = fields.map(([name, value]) => inner + fieldText(tree, name, value)).join(",");
  return { between, value: `{${lines}${close}}` };
}

/** The white space that begins the line of `offset`. */
function indentAt(text: string, offset: number): string {
  return /^[ \t]*/.exec(text.slice(offset - columnOf(text, offset)))?.[0] ?? "";
}

import type { TextCure } from "../../../core/base/problem.ts";
import type { Span } from "../../../core/base/span.ts";
import { readAllows } from "../../../core/checks/allow.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import type { TextEdits } from "../../../core/edit/apply-edits.ts";
import { checked, fieldEdits, type Rewriting } from "../../../core/edit/field-edits.ts";
import { isWithin, sharedSpans } from "../../../core/edit/times/time-fields.ts";
import {
  valueOf,
  type Comment,
  type ListNode,
  type MapEntry,
  type MapNode,
  type TreeNode,
} from "../../../core/syntax/tree.ts";
import type { View } from "../view.ts";

/** Cures of a finding by edits of this document's text alone: those that it brings, and taking away what is too much. */
export function textCures(view: View, finding: PlacedFinding): readonly TextCure[] {
  const { code, place, cures } = finding;
  const own = cures.filter(({ file }) => file === view.file);
  if (place.file !== view.file) return own;
  if (code === "allow") return [...own, ...idleAllow(view, place.span.start)];
  if (code === "unknown-field" || code === "over-determined") return [...own, ...deletedField(view, place.span.start)];
  return own;
}

const curesOf = ({ file }: View, title: string, rewriting: Rewriting): readonly TextCure[] =>
  "edits" in rewriting && 0 < rewriting.edits.length ? [{ title, file, edits: rewriting.edits }] : [];

/** Takes away the field whose name or value begins at `offset`, the innermost one. */
function deletedField(view: View, offset: number): readonly TextCure[] {
  const found = fieldAt(view.tree.root, offset);
  // What an alias repeats would change elsewhere too, and of a doubled name nobody knows which is meant.
  if (!found || isWithin(found.entry, sharedSpans(view.tree))) return [];
  const { map, entry } = found;
  if (map.entries.filter(({ name }) => name === entry.name).length > 1) return [];
  const edits = fieldEdits(view, map, [{ kind: "remove", name: entry.name }]);
  return curesOf(view, `Delete \`${entry.name}\``, checked(view, edits));
}

interface Field {
  readonly map: MapNode;
  readonly entry: MapEntry;
}

function fieldAt(node: TreeNode | undefined, offset: number): Field | undefined {
  if (!node || node.kind === "alias" || node.kind === "scalar") return undefined;
  if (node.kind === "list") {
    return node.items.reduce<Field | undefined>((found, item) => found ?? fieldAt(item, offset), undefined);
  }
  for (const entry of node.entries) {
    const inner = fieldAt(entry.value, offset);
    if (inner) return inner;
    if (entry.nameSpan.start === offset || entry.value?.start === offset) return { map: node, entry };
  }
  return undefined;
}

/** Takes away an `allow` that has a reason and allows nothing: one without would need its reason. */
function idleAllow(view: View, offset: number): readonly TextCure[] {
  const { text, tree } = view;
  const allow = readAllows(text, tree).find(({ span }) => span.start === offset);
  if (!allow || allow.reason === "") return [];
  const title = `Delete this \`allow\` of ${allow.code}`;
  const comment = tree.comments.find(({ start }) => start === offset);
  if (comment) return [{ title, file: view.file, edits: withoutComment(text, comment) }];
  const found = allowingMap(tree.root, offset);
  return found ? curesOf(view, title, checked(view, withoutItem(view, found, offset))) : [];
}

/** A comment with its line, or with the blanks before it. */
function withoutComment(text: string, { start, end }: Comment): TextEdits {
  const line = text.lastIndexOf("\n", start - 1) + 1;
  if (text.slice(line, start).trim() !== "") {
    const blanks = /[ \t]*$/.exec(text.slice(line, start))?.[0].length ?? 0;
    return [{ span: { start: start - blanks, end }, text: "" }];
  }
  const next = text.indexOf("\n", end);
  return [{ span: { start: line, end: next < 0 ? text.length : next + 1 }, text: "" }];
}

interface Allowing {
  readonly map: MapNode;
  readonly list: ListNode;
}

/** The map whose `allow` has an item that begins at `offset`. */
function allowingMap(node: TreeNode | undefined, offset: number): Allowing | undefined {
  if (!node || node.kind === "alias" || node.kind === "scalar") return undefined;
  if (node.kind === "map") {
    const list = valueOf(node.entries.find(({ name }) => name === "allow")?.value);
    if (list?.kind === "list" && list.items.some((item) => item?.start === offset)) return { map: node, list };
  }
  const inside = node.kind === "list" ? node.items : node.entries.map(({ value }) => value);
  return inside.reduce<Allowing | undefined>((found, one) => found ?? allowingMap(one, offset), undefined);
}

function withoutItem(view: View, { map, list }: Allowing, offset: number): TextEdits {
  const items = list.items.filter((item) => item !== undefined);
  const at = items.findIndex((item) => item.start === offset);
  if (items.length === 1) return fieldEdits(view, map, [{ kind: "remove", name: "allow" }]);
  const lines = list.flow ? undefined : linesOf(view.text, items[at]);
  const apart =
    at === 0 ? { start: items[0].start, end: items[1].start } : { start: items[at - 1].end, end: items[at].end };
  return [{ span: lines ?? apart, text: "" }];
}

/** The lines of an item with its dash, where no other stands on them. */
function linesOf(text: string, item: TreeNode): Span | undefined {
  const dash = text.lastIndexOf("-", item.start);
  const start = text.lastIndexOf("\n", dash - 1) + 1;
  const next = text.indexOf("\n", item.end - (text[item.end - 1] === "\n" ? 1 : 0));
  const end = next < 0 ? text.length : next + 1;
  return text.slice(start, dash).trim() === "" ? { start, end } : undefined;
}

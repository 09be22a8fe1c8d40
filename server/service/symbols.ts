import type { Span } from "../../core/base/span.ts";
import { valueOf, type MapEntry, type MapNode, type TreeNode } from "../../core/syntax/tree.ts";
import { shapesAt } from "./shape-walk.ts";
import type { View } from "./view.ts";

/** One line of the outline. */
export interface Symbol {
  readonly name: string;
  readonly detail: string;
  readonly kind: "section" | "axis" | "key" | "target" | "lens" | "item";
  readonly span: Span;
  /** The name itself, inside `span`. */
  readonly nameSpan: Span;
  readonly children: readonly Symbol[];
}

/** Most lines of an outline: editors slow down on more. */
export const SYMBOLS_CAP = 5000;

/** Sections with what they define: axes, keys, targets, lenses and other named things. */
export function symbolsOf(view: View): readonly Symbol[] {
  const root = valueOf(view.tree.root);
  if (root?.kind !== "map") return [];
  let left = SYMBOLS_CAP;
  return root.entries.flatMap((entry) => {
    if (left <= 0) return [];
    const symbol = section(view, entry, left);
    left -= 1 + symbol.children.length;
    return [symbol];
  });
}

function section(view: View, entry: MapEntry, cap: number): Symbol {
  const children = childrenOf(view, entry).slice(0, cap);
  const detail = children.length > 0 ? String(children.length) : scalarText(entry.value);
  return { ...entrySymbol(entry, "section"), detail, children };
}

function childrenOf(view: View, entry: MapEntry): Symbol[] {
  const value = valueOf(entry.value);
  if (value?.kind === "list") return value.items.flatMap((item, idx) => itemSymbol(view, entry.name, item, idx));
  if (value?.kind !== "map") return [];
  const record = shapesAt(view.kind, [entry.name]).find(({ shape }) => shape.kind === "record")?.shape;
  if (record?.kind !== "record" || record.names?.role !== "definition") return [];
  const kind = record.names.kind;
  return value.entries.map((each) => entrySymbol(each, kind === "target" || kind === "lens" ? kind : "item"));
}

function entrySymbol(entry: MapEntry, kind: Symbol["kind"]): Symbol {
  const { name, nameSpan, start, end } = entry;
  return { name: name || "?", detail: "", kind, span: { start, end }, nameSpan, children: [] };
}

/** Items of a list that are maps: axes of a chain, keys, passes. Called by their name, else by their number. */
function itemSymbol(view: View, section: string, item: TreeNode | undefined, idx: number): Symbol[] {
  const map = valueOf(item);
  if (!item || map?.kind !== "map") return [];
  const { start, end } = item;
  const named = fieldOf(map, "axis") ?? fieldOf(map, "name");
  const isKey = view.kind === "move" && section === "keys";
  const time = fieldOf(map, "at") ?? fieldOf(map, "after");
  const name = named ? scalarText(named.value) : "";
  return [
    {
      name: name || `${isKey ? "key" : section} ${idx + 1}`,
      detail: isKey && time ? `${time.name} ${scalarText(time.value)}` : scalarText(fieldOf(map, "type")?.value),
      kind: isKey ? "key" : section === "chain" ? "axis" : "item",
      span: { start, end },
      nameSpan: named?.value ? { start: named.value.start, end: named.value.end } : firstName(map),
      children: [],
    },
  ];
}

function fieldOf(map: MapNode, name: string): MapEntry | undefined {
  return map.entries.find((entry) => entry.name === name);
}

function firstName(map: MapNode): Span {
  return map.entries[0]?.nameSpan ?? { start: map.start, end: map.end };
}

function scalarText(node: TreeNode | undefined): string {
  const value = valueOf(node);
  return value?.kind === "scalar" && value.value !== null ? String(value.value) : "";
}

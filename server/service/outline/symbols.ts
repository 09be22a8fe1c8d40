import type { Span } from "../../../core/base/span.ts";
import type { Task } from "../../../core/base/task.ts";
import { valueOf, type MapEntry, type MapNode, type TreeNode } from "../../../core/syntax/tree.ts";
import { fieldOf, itemDetail, itemName, namedDetail, scalarText } from "./symbol-words.ts";
import { solvedDetails, type SolvedDetails } from "./symbol-solved.ts";
import { shapesAt } from "../shape-walk.ts";
import type { View } from "../view.ts";

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

/**
 * Sections with what they define: axes, keys, targets, lenses and other named things. Keys tell their times and how near the
 * way to them comes to a limit, where that is known by now.
 */
export function* symbolsOf(view: View): Task<readonly Symbol[]> {
  const root = valueOf(view.tree.root);
  if (root?.kind !== "map") return [];
  const solved = yield* solvedDetails(view);
  let left = SYMBOLS_CAP;
  return root.entries.flatMap((entry) => {
    if (left <= 0) return [];
    const symbol = section(view, solved, entry, left - 1);
    left -= 1 + symbol.children.length;
    return [symbol];
  });
}

function section(view: View, solved: SolvedDetails, entry: MapEntry, cap: number): Symbol {
  const children = childrenOf(view, solved, entry, cap);
  const isWhole = entry.name === view.kind;
  const detail =
    isWhole && solved.whole ? solved.whole : children.length > 0 ? String(children.length) : scalarText(entry.value);
  return { ...entrySymbol(entry, "section"), detail, children };
}

function childrenOf(view: View, solved: SolvedDetails, entry: MapEntry, cap: number): Symbol[] {
  const value = valueOf(entry.value);
  if (value?.kind === "list") {
    return value.items.slice(0, cap).flatMap((item, idx) => itemSymbol(view, solved, entry.name, item, idx));
  }
  if (value?.kind !== "map") return [];
  const record = shapesAt(view.kind, [entry.name]).find(({ shape }) => shape.kind === "record")?.shape;
  if (record?.kind !== "record" || record.names?.role !== "definition") return [];
  const { kind } = record.names;
  return value.entries.slice(0, cap).map((each) => ({
    ...entrySymbol(each, kind === "target" || kind === "lens" ? kind : "item"),
    detail: namedDetail(each.value),
  }));
}

function entrySymbol(entry: MapEntry, kind: Symbol["kind"]): Symbol {
  const { name, nameSpan, start, end } = entry;
  return { name: name || "?", detail: "", kind, span: { start, end }, nameSpan, children: [] };
}

/** Items of a list that are maps: axes of a chain, keys, passes. Called by their name, else by their number. */
function itemSymbol(
  view: View,
  solved: SolvedDetails,
  section: string,
  item: TreeNode | undefined,
  idx: number,
): Symbol[] {
  const map = valueOf(item);
  if (!item || map?.kind !== "map") return [];
  const { start, end } = item;
  const isKey = view.kind === "move" && section === "keys";
  const named = itemName(map);
  const name = named ? scalarText(named.value) : "";
  return [
    {
      name: name || `${isKey ? "key" : section} ${idx + 1}`,
      detail: (isKey ? solved.keyAt(start) : undefined) ?? itemDetail(map),
      kind: isKey ? "key" : section === "chain" ? "axis" : "item",
      span: { start, end },
      nameSpan: named?.value ? { start: named.value.start, end: named.value.end } : firstName(map),
      children: [],
    },
  ];
}

function firstName(map: MapNode): Span {
  return fieldOf(map, "at")?.nameSpan ?? map.entries[0]?.nameSpan ?? { start: map.start, end: map.end };
}

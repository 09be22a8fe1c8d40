import type { Span } from "../../base/span.ts";
import { entryOf, valueOf, type ScalarNode, type Tree, type TreeNode } from "../../syntax/tree.ts";
import { timeStyle, type TimeStyle } from "./written-time.ts";

/** Where a time of one key is written. */
export interface TimeField {
  readonly node: ScalarNode;
  readonly style: TimeStyle;
}

/** Times of one key as its text states them; absent ones are not there, or no times. */
export interface KeyFields {
  /** When the key is, from the beginning of the move. */
  readonly at?: TimeField;
  /** The same, from the end of the hold of the key before. */
  readonly after?: TimeField;
  /** How long it is held. */
  readonly hold?: TimeField;
  /** Of its ease, and of the change of target that ends there. */
  readonly ramp?: TimeField;
  readonly switchRamp?: TimeField;
}

/** Times of all keys in the order of the text; an item that is no map has none. */
export function keyFieldsOf(tree: Tree): readonly KeyFields[] {
  const list = valueOf(entryOf(tree.root, "keys")?.value);
  if (list?.kind !== "list") return [];
  return list.items.map((item) => {
    const fields = {
      at: fieldOf(item, ["at"]),
      after: fieldOf(item, ["after"]),
      hold: fieldOf(item, ["hold"]),
      ramp: rampOf(item, ["ease"]),
      switchRamp: rampOf(item, ["switch", "ease"]),
    };
    return Object.fromEntries(Object.entries(fields).filter(([, field]) => field !== undefined));
  });
}

const rampOf = (item: TreeNode | undefined, ease: readonly string[]): TimeField | undefined =>
  fieldOf(item, [...ease, "linear", "ramp"]) ?? fieldOf(item, [...ease, "ramp"]);

function fieldOf(item: TreeNode | undefined, path: readonly string[]): TimeField | undefined {
  const node = path.reduce<TreeNode | undefined>((at, name) => entryOf(at, name)?.value, item);
  const value = valueOf(node);
  if (value?.kind !== "scalar") return undefined;
  const style = timeStyle(value.value);
  return style && { node: value, style };
}

/** Spans of text that stand for more than one place: what an alias names. */
export function sharedSpans(tree: Tree): readonly Span[] {
  const found: Span[] = [];
  const look = (node: TreeNode | undefined): void => {
    if (!node) return;
    if (node.kind === "alias" && node.target) found.push(node.target);
    if (node.kind === "list") node.items.forEach(look);
    if (node.kind === "map") node.entries.forEach((entry) => look(entry.value));
  };
  look(tree.root);
  return found;
}

export function isWithin(span: Span, outer: readonly Span[]): boolean {
  return outer.some(({ start, end }) => start <= span.start && span.end <= end);
}

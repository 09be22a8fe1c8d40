import { entryOf, valueOf, type ListNode, type MapNode, type TreeNode } from "../syntax/tree.ts";
import type { MoveText } from "./times/time-edits.ts";
import { isWithin, sharedSpans } from "./times/time-fields.ts";

/** The list of keys of a text. */
export function keyList({ tree }: Pick<MoveText, "tree">): ListNode | undefined {
  const list = valueOf(entryOf(tree.root, "keys")?.value);
  return list?.kind === "list" ? list : undefined;
}

/** Items of the list of keys; `undefined` where a key of the text could not be read, so that they are not those of the move. */
export function keyItems(document: MoveText): readonly (TreeNode | undefined)[] | undefined {
  const list = keyList(document);
  return list?.items.length === document.move.keys.length ? list.items : undefined;
}

/** The text of one key as a map that may be edited: written in its place, and repeated nowhere. */
export function keyMap(document: MoveText, key: number): MapNode | undefined {
  const item = keyItems(document)?.[key];
  if (item?.kind !== "map" || isWithin(item, sharedSpans(document.tree))) return undefined;
  return item;
}

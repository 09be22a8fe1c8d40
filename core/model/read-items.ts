import type { Problem } from "../base/problem.ts";
import type { ListShape } from "../schema/shape.ts";
import type { TreeNode } from "../syntax/tree.ts";
import type { StatedList } from "./declared.ts";
import { itemSlot, itemsToRead, readValue, type ListValue } from "./read.ts";
import { addProblem, isFull, type Reporter } from "./report.ts";
import { shiftProblem, shiftStated } from "./shift-stated.ts";
import type { Slot } from "./slot.ts";

/** One item of a long list, read on its own. */
export interface ItemRead {
  /** Where it begins. */
  readonly start: number;
  /** The position that its problems name. */
  readonly index: number;
  readonly value: unknown;
  readonly problems: readonly Problem[];
  /** See `StatedList`. */
  readonly meaning: object;
}

/** A long list as it was read, to be read again after an edit. */
export interface ItemsRead {
  readonly stated: StatedList<unknown>;
  readonly items: readonly ItemRead[];
  /** Items that were not taken over from an earlier reading. */
  readonly fresh: number;
}

/** The item at a position of the list as it was read before the text changed elsewhere, where it is the same. */
export type EarlierItem = (index: number) => ItemRead | undefined;

/** Reads a list whose items are read apart, so that an edit in one need not read the others again. */
export function readItems(
  to: Reporter,
  shape: ListShape,
  list: ListValue,
  slot: Slot,
  earlier: EarlierItem,
): ItemsRead {
  let fresh = 0;
  const items = itemsToRead(to, list, slot).map((item, index): ItemRead => {
    const start = item?.start ?? 0;
    if (isFull(to)) return { start, index, value: undefined, problems: [], meaning: {} };
    // What there is to say of an item that holds nothing stands at the list's name.
    const known = item && earlier(index);
    const isTrue = known && (known.index === index || known.problems.length === 0);
    const read = isTrue ? movedItem(known, start) : { start, ...readItem(to, shape, item, index, slot) };
    if (!isTrue) fresh += 1;
    for (const problem of read.problems) addProblem(to, problem);
    return read;
  });
  const span = { start: list.start, end: list.end };
  const meanings = items.map(({ meaning }) => meaning);
  return { stated: { value: items.map(({ value }) => value), span, meanings }, items, fresh };
}

function readItem(
  around: Reporter,
  shape: ListShape,
  item: TreeNode | undefined,
  index: number,
  slot: Slot,
): Omit<ItemRead, "start"> {
  const to = { ...around, problems: [] as Problem[] };
  const value = readValue(to, shape.item, item, itemSlot(item, index, slot));
  return { index, value, problems: to.problems, meaning: {} };
}

function movedItem(item: ItemRead, start: number): ItemRead {
  const by = start - item.start;
  if (by === 0) return item;
  const problems = item.problems.map((problem) => shiftProblem(problem, by));
  return { start, index: item.index, value: shiftStated(item.value, by), problems, meaning: item.meaning };
}

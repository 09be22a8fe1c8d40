import { entryOf, valueOf, type ListNode, type MapNode, type TreeNode } from "../syntax/tree.ts";
import { isSameMeaning, writtenTime } from "./same-value.ts";
import { fieldShapes, itemShapes, type Shapes } from "./shapes.ts";
import type { Timing } from "./sides.ts";

/** Least likeness of two items that are taken to be one, and of two with names, which are then one that was renamed. */
const LEAST = 0.2;
const LEAST_RENAMED = 0.5;

/** How much of the likeness of two items without names is that they are near in time. */
const NEARNESS = 0.3;

/**
 * How much two items of a list are alike, 0 to 1: 1 for equal ones, 0 for those that are two. What counts is how many of
 * their fields say the same, and how near they are in time.
 */
export function likeness(
  one: TreeNode | undefined,
  other: TreeNode | undefined,
  shapes: Shapes,
  timing: Timing | undefined,
): number {
  if (isSameMeaning(one, other, shapes, timing)) return 1;
  const [a, b] = [valueOf(one), valueOf(other)];
  if (a?.kind === "list" && b?.kind === "list") return isSameRow(a, b, shapes, timing) ? 0.7 : 0;
  if (a?.kind !== "map" || b?.kind !== "map") return 0;
  const share = sameShare(a, b, shapes, timing);
  const isRenamed = entryOf(a, "name") !== undefined && entryOf(b, "name") !== undefined;
  if (isRenamed) return share < LEAST_RENAMED ? 0 : share * 0.9;
  const sum = share * (1 - NEARNESS) + NEARNESS * nearness(a, b, timing);
  return sum < LEAST ? 0 : sum * 0.95;
}

/** A row of a table is the one of its first column. */
function isSameRow(a: ListNode, b: ListNode, shapes: Shapes, timing: Timing | undefined): boolean {
  return isSameMeaning(a.items[0], b.items[0], itemShapes(shapes, 0), timing);
}

/** Share of fields beside the name that say the same. */
function sameShare(a: MapNode, b: MapNode, shapes: Shapes, timing: Timing | undefined): number {
  const names = new Set([...a.entries, ...b.entries].map(({ name }) => name));
  names.delete("name");
  if (names.size === 0) return 0;
  const same = [...names].filter((name) => {
    const [one, other] = [entryOf(a, name), entryOf(b, name)];
    return one && other && isSameMeaning(one.value, other.value, fieldShapes(shapes, name), timing);
  });
  return same.length / names.size;
}

/** 1 at the same time, 1/2 a second apart, 0 where either has no time. */
function nearness(a: MapNode, b: MapNode, timing: Timing | undefined): number {
  const [one, other] = [timeIn(a, timing), timeIn(b, timing)];
  return one === undefined || other === undefined ? 0 : 1 / (1 + Math.abs(one - other));
}

function timeIn(map: MapNode, timing: Timing | undefined): number | undefined {
  const at = valueOf(entryOf(map, "at")?.value);
  if (at?.kind !== "scalar" || typeof at.value === "boolean" || at.value === null) return undefined;
  return writtenTime(at.value, timing);
}

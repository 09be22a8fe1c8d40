import { entryOf, valueOf } from "../syntax/tree.ts";
import type { Element } from "./element.ts";
import type { Row } from "./match-rows.ts";
import type { Gap } from "./merge-order.ts";
import { clashRun, type Rows } from "./run.ts";
import { writtenTime } from "./same-value.ts";
import { isTimed, itemShapes, type Shapes } from "./shapes.ts";
import type { Merging } from "./merging.ts";
import type { Timing } from "./sides.ts";

/**
 * What stands in one gap: fields and items whose order says nothing one side after the other, items with times in order of
 * time, and a clash where both sides put something there of which nothing tells the order.
 */
export function gapElements(
  { timing }: Merging,
  all: Rows,
  made: readonly (Element | undefined)[],
  gap: Gap,
  shapes: Shapes,
): Element[] {
  const kept = (ids: readonly number[]): Element[] => ids.flatMap((id) => made[id] ?? []);
  const [ours, theirs] = [kept(gap.ours), kept(gap.theirs)];
  const both = [...ours, ...theirs];
  const isNew = ({ rows }: Element): boolean => !all.rows[rows[0]].base;
  if (!ours.some(isNew) || !theirs.some(isNew) || all.place.isMap) return both;
  if (isTimed(shapes)) {
    const times = both.map(({ rows }) => absoluteTime(all.rows[rows[0]], timing));
    const next = gap.then === undefined ? undefined : all.rows[gap.then];
    if (isOrdered(times) && !isCounted(next)) return byTime(both, times as readonly number[]);
  } else if (isUnordered(shapes)) {
    return both;
  }
  return clashRun(all, both, 0, both.length - 1, true);
}

/** Every item has a time of its own. */
const isOrdered = (times: readonly (number | undefined)[]): boolean =>
  times.every((time) => time !== undefined) && new Set(times).size === times.length;

function byTime(elements: readonly Element[], times: readonly number[]): Element[] {
  const order = elements.map((_, i) => i).sort((a, b) => times[a] - times[b]);
  return order.map((i) => elements[i]);
}

/** The written time of an item that says `at`. */
function absoluteTime(row: Row, timing: Timing | undefined): number | undefined {
  const at = valueOf(entryOf((row.ours ?? row.theirs)?.node, "at")?.value);
  if (at?.kind !== "scalar" || typeof at.value === "boolean" || at.value === null) return undefined;
  return writtenTime(at.value, timing);
}

/** True for a key whose time counts from the one before, whichever that is. */
const isCounted = (row: Row | undefined): boolean =>
  [row?.ours, row?.theirs].some((part) => part !== undefined && entryOf(part.node, "after") !== undefined);

/** Fields of items that make a set: expectations, what is allowed, cuts, bodies and masses on links, passes, attachments. */
const OF_SETS = ["of", "code", "from", "on", "times", "mass"];

/** True for lists whose order says nothing. */
const isUnordered = (shapes: Shapes): boolean =>
  itemShapes(shapes, 0).some(
    (shape) =>
      (shape.kind === "map" && OF_SETS.some((name) => shape.fields.has(name))) ||
      (shape.kind === "tuple" && shape.items.every((item) => item.kind === "scalar" && item.facts.type === "name")),
  );

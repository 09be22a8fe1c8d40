import type { ChangedRange } from "../base/changed-range.ts";
import type { ListNode, MapNode } from "./tree.ts";

/** The fields of the root, or the items of a list: each begins a line at one and the same column. */
export interface Units {
  readonly kind: "map" | "list";
  readonly column: number;
  readonly count: number;
  /** Where what belongs to the last unit ends. */
  readonly end: number;
  /** Where the line begins that a unit begins; `undefined` where it does not stand so that it can be told. */
  begin(index: number): number | undefined;
  /** An offset in the unit's first line: what changes from there on leaves how the unit begins. */
  inside(index: number): number | undefined;
}

export function fieldsOf(text: string, root: MapNode): Units {
  return {
    kind: "map",
    column: 0,
    count: root.entries.length,
    end: text.length,
    begin(index) {
      const { start } = root.entries[index];
      return lineStart(text, start) === start ? start : undefined;
    },
    inside: (index) => root.entries[index].start + 1,
  };
}

/** `undefined` when the list does not begin a line. `end`: where the next field begins, or the text ends. */
export function itemsOf(text: string, list: ListNode, end: number): Units | undefined {
  const column = list.start - lineStart(text, list.start);
  if (text.slice(list.start - column, list.start).trim() !== "") return undefined;
  return {
    kind: "list",
    column,
    count: list.items.length,
    end,
    begin(index) {
      const item = list.items[index];
      const dash = item ? text.lastIndexOf("-", item.start - 1) : -1;
      if (!item || dash < list.start || text.slice(dash + 1, item.start).trim() !== "") return undefined;
      const start = lineStart(text, dash);
      return dash - start === column && text.slice(start, dash).trim() === "" ? start : undefined;
    },
    inside: (index) => list.items[index]?.start,
  };
}

const lineStart = (text: string, offset: number): number => text.lastIndexOf("\n", offset - 1) + 1;

/** Whole lines of the older text, `[from, to)`, that hold the units from `first` to before `next` and the change. */
export interface Region {
  readonly first: number;
  readonly next: number;
  readonly from: number;
  readonly to: number;
  /** True when nothing of the text follows. */
  readonly isLast: boolean;
}

export function regionAround(units: Units, older: string, newer: string, change: ChangedRange): Region | undefined {
  let first = units.count - 1;
  while (first > 0 && !((units.inside(first) ?? Infinity) <= change.start && units.begin(first) !== undefined))
    first -= 1;
  const from = units.begin(first);
  if (from === undefined || from > change.start) return undefined;
  const endsAt = (to: number): boolean =>
    change.olderEnd <= to && newer[to + change.newerEnd - change.olderEnd - 1] === "\n";
  for (let next = first + 1; next < units.count; next++) {
    const to = units.begin(next);
    if (to !== undefined && endsAt(to)) return { first, next, from, to, isLast: false };
  }
  const isLast = units.end === older.length;
  if (!isLast && !endsAt(units.end)) return undefined;
  return { first, next: units.count, from, to: units.end, isLast };
}

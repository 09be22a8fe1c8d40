import type { Span } from "../../base/span.ts";
import { parseTime } from "../../base/timecode.ts";
import { SHAPES } from "../../schema/documents.ts";
import type { MapShape } from "../../schema/shape.ts";
import { entryOf, valueOf, type TreeNode } from "../../syntax/tree.ts";
import { itemParts } from "../element.ts";
import { saidFields, type Renaming, type SaidFields } from "../fields/said-fields.ts";
import type { Reading } from "../fields/said.ts";
import { readingOf } from "../reading.ts";
import type { ReviewSide } from "../review-side.ts";

/** One key of one side, as far as its text could be read. */
export interface ReadKey {
  /** `top`, or `key 2`. */
  readonly label: string;
  readonly name?: string;
  /** As a part of the path of what stands in it: see `elementOf`. */
  readonly part: string;
  /** Written time [s]; NaN where it can't be told. */
  readonly written: number;
  /** Played time [s]; NaN where it can't be told. */
  readonly played: number;
  readonly span: Span;
  /** Its text, for a look whether it is the same. */
  readonly text: string;
  /** What it says beside its name and its time; read when it is first asked for. */
  said(): SaidFields;
}

/** Fields that say which key it is and when: these are told apart from what it gives. */
const OWN = ["name", "at", "after"];

/** The keys of a move in the order of its text; none for what is no list. */
export function readKeys(side: ReviewSide, renaming: Renaming): readonly ReadKey[] {
  const list = valueOf(entryOf(side.tree?.root, "keys")?.value);
  const shape = keyShape();
  if (list?.kind !== "list" || !shape) return [];
  const reading = readingOf(side);
  const played = playedTimes(side);
  const times = writtenTimes(reading, list.items);
  const parts = itemParts(list);
  const speed = numberOf(entryOf(side.tree?.root, "speed")?.value) ?? 1;
  return list.items.flatMap((item, index): ReadKey[] => {
    const node = valueOf(item);
    if (!item || node?.kind !== "map") return [];
    const name = textOf(entryOf(item, "name")?.value);
    let said: SaidFields | undefined;
    return [
      {
        label: name ?? `key ${index + 1}`,
        ...(name === undefined ? {} : { name }),
        part: parts[index],
        written: times[index],
        played: played.get(node.start) ?? times[index] / speed,
        span: { start: node.start, end: node.end },
        text: reading.text.slice(node.start, node.end),
        said: () => (said ??= saidFields(reading, shape, node, renaming, OWN)),
      },
    ];
  });
}

function keyShape(): MapShape | undefined {
  const keys = SHAPES.move.fields.get("keys")?.shape;
  return keys?.kind === "list" && keys.item.kind === "map" ? keys.item : undefined;
}

/** Played times of the keys that were resolved, by where each begins in the text. */
function playedTimes({ analysis: { move, origins } }: ReviewSide): ReadonlyMap<number, number> {
  return new Map(
    (move?.keys ?? []).flatMap(({ origin, time }): [number, number][] => {
      const place = origins?.place(origin);
      return place ? [[place.span.start, time]] : [];
    }),
  );
}

/** When each key is by its own text and those before it, NaN where that can't be told [s]. */
function writtenTimes({ rate, startFrame }: Reading, items: readonly (TreeNode | undefined)[]): number[] {
  let leaves = 0;
  return items.map((item, index) => {
    const read = (field: string, start: number): number | undefined => {
      const value = scalarOf(entryOf(item, field)?.value);
      if (value === undefined) return undefined;
      const parsed = parseTime(value, rate, start);
      return parsed.ok ? parsed.value : NaN;
    };
    const after = read("after", 0);
    const at = read("at", startFrame) ?? (after === undefined ? undefined : leaves + after);
    const time = at ?? (index === 0 ? 0 : NaN);
    // A key without a time of its own is no key to count from.
    if (!Number.isNaN(time)) leaves = time + (read("hold", 0) ?? 0);
    return time;
  });
}

function scalarOf(node: TreeNode | undefined): string | number | undefined {
  const value = valueOf(node);
  return value?.kind === "scalar" && (typeof value.value === "string" || typeof value.value === "number")
    ? value.value
    : undefined;
}

function textOf(node: TreeNode | undefined): string | undefined {
  const value = scalarOf(node);
  return value === undefined ? undefined : String(value).trim();
}

/** A share as written: `50 %`, 0.5. */
function numberOf(node: TreeNode | undefined): number | undefined {
  const value = scalarOf(node);
  const parsed = typeof value === "string" && value.includes("%") ? Number.parseFloat(value) / 100 : Number(value);
  return parsed > 0 ? parsed : undefined;
}

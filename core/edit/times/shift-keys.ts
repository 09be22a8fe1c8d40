import { parseTime } from "../../base/timecode.ts";
import { formatQuantity } from "../../base/units.ts";
import { accept, refuse, type Parsed } from "../../base/parsed.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { entryOf, valueOf, type ScalarNode } from "../../syntax/tree.ts";
import { checked, type Rewriting } from "../field-edits.ts";
import { keyItems } from "../key-item.ts";
import { statedTimes, type StatedTime } from "./restate-times.ts";
import { putTime, sharedTime, type TimeWriting } from "./put-time.ts";
import type { MoveText } from "./time-edits.ts";
import { keyFieldsOf, sharedSpans } from "./time-fields.ts";
import { timeStyle } from "./written-time.ts";

/** Ways shorter than this are none [s]. */
const LEAST_WAY = 1e-6;

/** An amount of time as a person writes it, earlier with `-` [s]: `1.5 s`, `-12 f`, `+00:00:01:00`. */
export function readAmount(written: string, { rate }: Pick<ResolvedMove, "rate">): Parsed<number> {
  const match = /^\s*([+-]?)\s*(.*?)\s*$/s.exec(written);
  const [, sign, size] = match ?? ["", "", ""];
  if (size === "") return refuse("wrong-type", "write by how much, such as `1.5 s`, `-12 f` or `00:00:01:00`");
  // Bare numbers are seconds, as in a move.
  const parsed = /^\d*\.?\d+$/.test(size) ? accept(Number(size)) : parseTime(size, rate, 0);
  if (!parsed.ok) return parsed;
  return accept(sign === "-" ? -parsed.value : parsed.value);
}

/**
 * Lets a key and all later ones come later, or earlier, by the same written time; what the move's own tests say of times from
 * then on goes along. Each time keeps its notation where that can say it. The ways between the keys stay as long, but for the
 * one to the first of them.
 *
 * @param key Position; not 0, as a move begins with its first key.
 * @param by  Written time [s], below 0 for earlier.
 */
export function shiftKeys(document: MoveText, key: number, by: number): Rewriting {
  const { move } = document;
  const stated = statedTimes(document, keyFieldsOf(document.tree));
  if (!stated || !keyItems(document)) return { refusal: "the time of a key cannot be read: mend it first" };
  const label = (at: number): string => `\`${move.keys[at].label}\``;
  if (key === 0) return { refusal: `a move begins with its first key, ${label(0)}: shift the keys behind it` };
  const left = stated[key - 1].at + stated[key - 1].hold;
  const room = stated[key].at - left;
  if (by + room < LEAST_WAY) {
    const held = 0 < stated[key - 1].hold ? "is held until" : "is at";
    return {
      refusal: `${label(key)} can come earlier by less than ${formatQuantity(room, "time")}: ${label(key - 1)} ${held} ${formatQuantity(left, "time")}`,
    };
  }
  return shifted(document, stated, key, by);
}

/**
 * Lets a key that does not come after the one before it, as its text stands, come a time after that, and all later ones
 * along. `undefined` for a key that does come after it.
 *
 * @param key Position in the text.
 * @param gap Written time from where the key before is left [s].
 */
export function shiftBehind(document: MoveText, key: number, gap: number): Rewriting | undefined {
  const stated = statedTimes(document, keyFieldsOf(document.tree));
  if (!stated || key < 1 || stated.length <= key) return undefined;
  const left = stated[key - 1].at + stated[key - 1].hold;
  if (left + LEAST_WAY < stated[key].at) return undefined;
  return shifted(document, stated, key, left + gap - stated[key].at);
}

function shifted(document: MoveText, times: readonly StatedTime[], key: number, by: number): Rewriting {
  const { tree, move } = document;
  const fields = keyFieldsOf(tree);
  const left = times[key - 1].at + times[key - 1].hold;
  const writing: TimeWriting = { document, shared: sharedSpans(tree), edits: [] };
  for (let at = key; at < fields.length; at++) {
    const field = fields[at].at ?? (at === key ? fields[at].after : undefined);
    // What counts from the key before comes along by itself.
    if (!field) continue;
    const isAt = fields[at].at !== undefined;
    const time = (isAt ? times[at].at : times[at].at - left) + by;
    if (!putTime(writing, field, time, isAt ? move.startFrame : 0)) return sharedTime(`key ${at + 1}`);
  }
  const refusal = shiftTests(writing, times[key].at, left, by);
  return refusal ?? checked(document, writing.edits);
}

/** Times of the move's own tests: from the key on they go along, on the way to it they stay as long as it is not shorter. */
function shiftTests(
  writing: TimeWriting,
  from: number,
  left: number,
  by: number,
): { readonly refusal: string } | undefined {
  const { tree, move } = writing.document;
  const list = valueOf(entryOf(tree.root, "expect")?.value);
  if (list?.kind !== "list") return undefined;
  for (const item of list.items) {
    for (const name of ["at", "from", "to"]) {
      const entry = entryOf(item, name);
      const node = valueOf(entry?.value);
      if (!entry || node?.kind !== "scalar") continue;
      const time = timeOf(node, move);
      const style = timeStyle(node.value);
      if (time === undefined || !style || time <= left) continue;
      const after = from <= time + LEAST_WAY ? time + by : Math.min(time, from + by);
      if (after === time) continue;
      if (entry.value !== node || !putTime(writing, { node, style }, after, move.startFrame))
        return sharedTime("a test in `expect`");
    }
  }
  return undefined;
}

function timeOf({ value }: ScalarNode, { rate, startFrame }: ResolvedMove): number | undefined {
  if (typeof value !== "string" && typeof value !== "number") return undefined;
  const parsed = parseTime(value, rate, startFrame);
  return parsed.ok ? parsed.value : undefined;
}

import type { Span } from "../../base/span.ts";
import { parseTime } from "../../base/timecode.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Tree } from "../../syntax/tree.ts";
import type { TextEdits } from "../apply-edits.ts";
import { isWithin, keyFieldsOf, sharedSpans, type KeyFields } from "./time-fields.ts";
import { roundDown, roundUp, writeTime } from "./written-time.ts";
import { writtenRampsOf, writtenTimesOf } from "./written-times.ts";

/** One time of a text, as it stands and as it is to stand. */
export interface TimeChange {
  /** Key by position. */
  readonly key: number;
  readonly field: keyof KeyFields;
  readonly before: string;
  readonly after: string;
}

/** What gives the keys of a text their new times, or why they can't be written. */
export type TimeEdits =
  | {
      readonly ok: true;
      readonly edits: TextEdits;
      readonly changes: readonly TimeChange[];
      /** Written time of each key with them [s]. */
      readonly times: readonly number[];
    }
  | { readonly ok: false; readonly reason: string };

/** The text of a move and what was read from it. */
export interface MoveText {
  readonly text: string;
  readonly tree: Tree;
  readonly move: ResolvedMove;
}

/** Times nearer than this [s] are the same: nothing is written anew for them. */
const SAME = 1e-7;

interface Writing extends MoveText {
  readonly fields: readonly KeyFields[];
  readonly shared: readonly Span[];
  readonly edits: { readonly span: Span; readonly text: string }[];
  readonly changes: TimeChange[];
  refusal?: string;
}

/**
 * Writes the times of `target` into the text of a move: each in the unit and notation in which it stands, every way rounded
 * up. All else stays byte for byte, and so do times that don't change.
 *
 * @param target The same keys at other played times.
 */
export function writeTimes(document: MoveText, target: ResolvedMove): TimeEdits {
  const fields = keyFieldsOf(document.tree);
  if (fields.length !== document.move.keys.length) {
    return { ok: false, reason: "a key of the text could not be read, so the times of the others cannot be told" };
  }
  const writing: Writing = { ...document, fields, shared: sharedSpans(document.tree), edits: [], changes: [] };
  const wanted = writtenTimesOf(target);
  // A text whose first key is not at 0 is read as if it were.
  const first = fields[0]?.at ? (timeIn(writing, 0, "at") ?? 0) : 0;
  const times = [0];
  let left = put(writing, 0, "hold", wanted[0].leaves - wanted[0].at);
  for (let key = 1; key < fields.length; key++) {
    const way = wanted[key].at - wanted[key - 1].leaves;
    const time = fields[key].at
      ? put(writing, key, "at", first + left + way) - first
      : left + put(writing, key, "after", way);
    times.push(time);
    left = time + put(writing, key, "hold", wanted[key].leaves - wanted[key].at);
  }
  writtenRampsOf(target).forEach((ramps, key) => {
    // A ramp that the text leaves out goes with its way.
    for (const name of ["ramp", "switchRamp"] as const) {
      const ramp = ramps[name];
      if (ramp !== undefined && fields[key][name]) put(writing, key, name, ramp);
    }
  });
  if (writing.refusal !== undefined) return { ok: false, reason: writing.refusal };
  return { ok: true, edits: writing.edits, changes: writing.changes, times };
}

/** Gives one time of the text a new value; answers the value that then stands there [s]. */
function put(writing: Writing, key: number, name: keyof KeyFields, time: number): number {
  const { text, move, fields, shared } = writing;
  const field = fields[key][name];
  const now = timeIn(writing, key, name) ?? (name === "hold" ? 0 : undefined);
  if (now !== undefined && Math.abs(time - now) <= SAME) return now;
  const refuse = (reason: string): number => {
    writing.refusal ??= `the time of ${move.keys[key].label} cannot be written: ${reason}`;
    return time;
  };
  if (!field) return refuse(`it has no \`${name}\` that is a time`);
  const { start, end } = field.node;
  const before = text.slice(start, end);
  if (isWithin({ start, end }, shared)) {
    return refuse(`an alias (\`*name\`) repeats its \`${name}\` elsewhere; write the value out in both places`);
  }
  if (field.node.style === "block" || /[\r\n]/.test(before)) return refuse(`\`${name}\` is not on one line`);
  // Two ramps have room in a way that is rounded up when they are rounded down.
  const round = name === "ramp" || name === "switchRamp" ? roundDown : roundUp;
  const rounded = round(time, field.style, move.rate);
  const after = quotedAs(before, writeTime(rounded, field.style, move.rate, offsetOf(move, name)));
  writing.edits.push({ span: { start, end }, text: after });
  writing.changes.push({ key, field: name, before, after });
  return rounded;
}

/** The time that the text states now [s]. */
function timeIn({ fields, move }: Writing, key: number, name: keyof KeyFields): number | undefined {
  const value = fields[key][name]?.node.value;
  if (typeof value !== "string" && typeof value !== "number") return undefined;
  const parsed = parseTime(value, move.rate, offsetOf(move, name));
  return parsed.ok ? parsed.value : undefined;
}

/** A label of `at` counts from the first frame's, a stretch of time from nothing. */
const offsetOf = ({ startFrame }: ResolvedMove, name: keyof KeyFields): number => (name === "at" ? startFrame : 0);

/** Keeps the quotes of a value that has them. */
export function quotedAs(before: string, value: string): string {
  const mark = before[0];
  return mark === '"' || mark === "'" ? mark + value + mark : value;
}

import { parseTime } from "../base/timecode.ts";
import { trimmed } from "../base/units.ts";
import type { Span } from "../base/span.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { lengthOf } from "./key-shape.ts";
import { headOf } from "./read.ts";
import { replacement, report } from "./report.ts";

/** A key this near to the end of a hold [s] has no time to come to. */
const SAME_TIME = 1e-9;

/** When each key is, in written time [s]; `undefined` for a key without a usable time, which is dropped. */
export interface KeyTime {
  readonly time: number;
  /** The text that states it; absent for a first key that leaves it out. */
  readonly span?: Span;
  /** For how long everything stays there, in written time [s]; 0 for a key that is not held. */
  readonly hold: number;
  readonly holdSpan?: Span;
}

/** Times of all keys by their position in the text, with findings for those that are missing or out of order. */
export function resolveKeyTimes(
  context: MoveContext,
  keys: readonly (KeyFields | undefined)[],
  label: (index: number) => string,
): readonly (KeyTime | undefined)[] {
  const { scope } = context;
  const times: (KeyTime | undefined)[] = [];
  let last: KeyTime | undefined;
  let lastLabel = "";
  keys.forEach((key, index) => {
    const at = key && timeOf(context, key, last, index === 0);
    const hold = key && lengthOf(context, "hold", key.value.hold, label(index));
    if (!at) {
      times.push(undefined);
      return;
    }
    const time: KeyTime = { ...at, hold: hold?.value ?? 0, ...(hold && { holdSpan: hold.span }) };
    if (last && last.time < time.time && time.time <= last.time + last.hold + SAME_TIME && last.holdSpan) {
      const message = `The key at ${say(time.time)} comes while \`${lastLabel}\` is held, which is until ${say(last.time + last.hold)}: let it come later, or hold for less.`;
      report(scope, "key-order", time.span ?? key.span, message, {
        key: label(index),
        related: [{ place: { file: scope.file, span: last.holdSpan }, message: "The hold." }],
      });
      times.push(undefined);
      return;
    }
    if (last && !(time.time > last.time)) {
      const message = `The key at ${say(time.time)} does not come after \`${lastLabel}\` at ${say(last.time)}: keys stand in order of time.`;
      report(scope, "key-order", time.span ?? key.span, message, {
        key: label(index),
        related: last.span ? [{ place: { file: scope.file, span: last.span }, message: "The key before." }] : [],
      });
      times.push(undefined);
      return;
    }
    times.push(time);
    last = time;
    lastLabel = label(index);
  });
  return shiftedToZero(context, times);
}

const say = (time: number): string => `${trimmed(time, 3)} s`;

function timeOf(
  context: MoveContext,
  key: KeyFields,
  last: KeyTime | undefined,
  first: boolean,
): Pick<KeyTime, "time" | "span"> | undefined {
  const { at, after } = key.value;
  const { scope, rate, startFrame } = context;
  if (at && after) {
    report(scope, "over-determined", after.span, "A key has `at` or `after`, not both: delete one.");
  }
  if (at) {
    const parsed = parseTime(at.value, rate, startFrame);
    if (parsed.ok) return { time: parsed.value, span: at.span };
    const cures = parsed.cure === undefined ? {} : { cures: [replacement(scope, at.span, parsed.cure)] };
    report(scope, parsed.code, at.span, `\`at\`: ${parsed.message}.`, cures);
    return undefined;
  }
  if (after && !("at" in key.value)) {
    // A label counts from the first frame, a stretch of time from nothing: no start is taken off.
    const parsed = parseTime(after.value, rate, 0);
    if (parsed.ok) return { time: (last ? last.time + last.hold : 0) + parsed.value, span: after.span };
    const cures = parsed.cure === undefined ? {} : { cures: [replacement(scope, after.span, parsed.cure)] };
    report(scope, parsed.code, after.span, `\`after\`: ${parsed.message}.`, cures);
    return undefined;
  }
  if ("at" in key.value || "after" in key.value) return undefined;
  if (first) return { time: 0 };
  report(
    scope,
    "missing-field",
    headOf(key),
    "This key has no time: give `at`, or `after` counted from the key before.",
  );
  return undefined;
}

/** A move begins with its first key. One that begins elsewhere is a finding, and is read as if it began there. */
function shiftedToZero(
  context: MoveContext,
  times: readonly (KeyTime | undefined)[],
): readonly (KeyTime | undefined)[] {
  const first = times.find((time) => time !== undefined);
  if (!first || first.time === 0) return times;
  const message =
    first.time < 0
      ? `The first key is ${say(-first.time)} before the start of the move: let it be at 0 s, or set \`start:\` to its label.`
      : `The first key is at ${say(first.time)}, but a move begins with its first key: let it be at 0 s, set \`start:\` to its label, or add a key at 0 s to hold.`;
  if (times[0] === first || first.time < 0)
    report(context.scope, "key-order", first.span ?? { start: 0, end: 0 }, message);
  return times.map((time) => time && { ...time, time: time.time - first.time });
}

import type { Span } from "../base/span.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import { resolveKeyTimes } from "./key-times.ts";
import { checkBlends } from "./check-path.ts";
import { checkShapes, type DraftKey } from "./check-shapes.ts";
import type { KeptKeys, KeyPart } from "./kept-keys.ts";
import type { KeyFields, MoveContext, MoveFields } from "./move-context.ts";
import { playedKeys, playedTimes, type WrittenKey } from "./played-keys.ts";
import { addProblem, report } from "./report.ts";
import { resolveKey } from "./resolve-key.ts";
import { shiftProblem, shiftStated } from "./shift-stated.ts";

export interface ResolvedKeys {
  readonly keys: readonly ResolvedKey[];
  /** Text of each of `keys`, by its position in `keys`. */
  readonly spans: readonly Span[];
  /** True when an aim or a camera point is stated but not known, and nothing else says where the camera looks. */
  readonly undetermined: boolean;
  /** Keys that were not taken over from the time before. */
  readonly fresh: number;
  /** When a written time is played, both in s. */
  readonly played: (written: number) => number;
}

/**
 * The keys that have a time, in order. A field that fails is left out of its key, a key without a time out of the move.
 *
 * @param kept What an earlier version of the document left for this context; keys that say the same are not resolved again.
 */
export function resolveKeys(context: MoveContext, fields: MoveFields, kept: KeptKeys): ResolvedKeys {
  const { scope, speed } = context;
  const { value: stated = [], meanings = [] } = fields.keys ?? {};
  if (fields.keys && stated.length === 0) {
    report(scope, "missing-field", fields.keys.span, "`keys` is empty: a move has one key or more.");
  }
  const labelOf = (index: number): string => stated[index]?.value.name?.value ?? `key ${index + 1}`;
  const times = resolveKeyTimes(context, stated, labelOf);
  const names = new Set<string>();
  const keys: TimedKey[] = [];
  let aimed = false;
  let undetermined = false;
  let fresh = 0;
  stated.forEach((key, index) => {
    const time = times[index];
    if (!key) return;
    reportDouble(context, key, names);
    const before = { index, label: labelOf(index), aimed };
    const known = partBefore(kept, meanings[index], before);
    const part = known ?? resolveKey(context, key, before);
    if (!known) {
      fresh += 1;
      keepPart(kept, meanings[index], part);
    }
    const by = key.span.start - part.start;
    for (const problem of part.problems) addProblem(scope, shiftProblem(problem, by));
    scope.resolution.origins.putKey(index, scope.file, by, part.spans);
    if (part.undetermined) undetermined = true;
    aimed = part.aims;
    if (!time) return;
    const stop = time.hold > 0 || (key.value.stop?.value ?? false);
    keys.push({
      part,
      fields: key,
      key: part.key,
      written: time.time,
      hold: time.hold,
      stop,
      earlier: kept.played.get(part),
    });
  });
  if (keys.some(({ key }) => key.ease ?? key.switch)) checkShapes(context, keys.map(draftOf));
  if (keys.some(({ key }) => key.blend)) checkBlends(context, keys.map(draftOf));
  const played = playedKeys(keys, speed);
  played.forEach((key, index) => {
    if (key !== keys[index].earlier) kept.played.set(keys[index].part, key);
  });
  const spans = keys.map(({ fields: { span } }) => ({ start: span.start, end: span.end }));
  return { keys: played, spans, undetermined, fresh, played: playedTimes(keys, speed) };
}

/** A key that has a time. */
interface TimedKey extends WrittenKey {
  readonly part: KeyPart;
  readonly fields: KeyFields;
}

function partBefore(
  { parts }: KeptKeys,
  meaning: object | undefined,
  { index, label, aimed }: Pick<KeyPart, "index" | "label" | "aimed">,
): KeyPart | undefined {
  const part = meaning && parts.get(meaning);
  return part?.index === index && part.label === label && part.aimed === aimed ? part : undefined;
}

/** Related places are in other keys or documents and do not move along with a key: such a part is made anew. */
function keepPart({ parts }: KeptKeys, meaning: object | undefined, part: KeyPart): void {
  if (meaning && part.problems.every(({ related }) => !related)) parts.set(meaning, part);
}

function draftOf({ part, fields, written, hold, stop }: TimedKey): DraftKey {
  const { label, key } = part;
  const by = fields.span.start - part.start;
  return { fields, label, written, hold, stop, parts: key, ...rampsOf(part, by) };
}

function rampsOf({ easeRamp, switchRamp }: KeyPart, by: number): Pick<DraftKey, "easeRamp" | "switchRamp"> {
  return {
    ...(easeRamp && { easeRamp: shiftStated(easeRamp, by) as typeof easeRamp }),
    ...(switchRamp && { switchRamp: shiftStated(switchRamp, by) as typeof switchRamp }),
  };
}

function reportDouble({ scope }: MoveContext, { value: { name } }: KeyFields, names: Set<string>): void {
  if (!name) return;
  if (names.has(name.value)) {
    report(scope, "duplicate-name", name.span, `Two keys are called \`${name.value}\`: rename one.`, {
      key: name.value,
    });
  }
  names.add(name.value);
}

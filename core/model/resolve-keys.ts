import type { Span } from "../base/span.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import { resolveKeyTimes } from "./key-times.ts";
import { checkShapes, type DraftKey } from "./check-shapes.ts";
import { samePlayed, type KeptKeys, type KeyPart } from "./kept-keys.ts";
import type { KeyFields, MoveContext, MoveFields } from "./move-context.ts";
import { playedKeys, type WrittenKey } from "./played-keys.ts";
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
  const keys: WrittenKey[] = [];
  const parts: KeyPart[] = [];
  const drafts: DraftKey[] = [];
  const spans: Span[] = [];
  let aimed = false;
  let undetermined = false;
  let fresh = 0;
  stated.forEach((key, index) => {
    const time = times[index];
    if (!key) return;
    reportDouble(context, key, names);
    const before = { index, label: labelOf(index), aimed };
    const known = meanings[index] && kept.parts.get(meanings[index]);
    const isKnown = known?.index === index && known.label === before.label && known.aimed === aimed;
    const part = isKnown ? known : resolveKey(context, key, before);
    if (!isKnown) fresh += 1;
    // Related places are in other keys or documents: they do not move along.
    if (!isKnown && meanings[index] && part.problems.every(({ related }) => !related))
      kept.parts.set(meanings[index], part);
    const by = key.span.start - part.start;
    for (const problem of part.problems) addProblem(scope, shiftProblem(problem, by));
    scope.resolution.origins.putKey(index, scope.file, by, part.spans);
    if (part.undetermined) undetermined = true;
    aimed = part.aims;
    if (!time) return;
    const stop = time.hold > 0 || (key.value.stop?.value ?? false);
    const { label } = before;
    drafts.push({
      fields: key,
      label,
      written: time.time,
      hold: time.hold,
      stop,
      parts: part.key,
      ...rampsOf(part, by),
    });
    keys.push({ ...part.key, written: time.time, ...(0 < time.hold && { hold: time.hold }), stop });
    parts.push(part);
    spans.push({ start: key.span.start, end: key.span.end });
  });
  checkShapes(context, drafts);
  return { keys: samePlayed(kept, parts, playedKeys(keys, speed)), spans, undetermined, fresh };
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

import type { Task } from "../../../core/base/task.ts";
import { applyEdits, type TextEdits } from "../../../core/edit/apply-edits.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import { checked, fieldEdits, type FieldChange } from "../../../core/edit/field-edits.ts";
import { keyItems, keyMap } from "../../../core/edit/key-item.ts";
import { keyFieldsOf } from "../../../core/edit/times/time-fields.ts";
import { roundDown, writeTime, type TimeStyle } from "../../../core/edit/times/written-time.ts";
import { writtenTimesOf } from "../../../core/edit/times/written-times.ts";
import { entryOf } from "../../../core/syntax/tree.ts";
import { groundOf, lookAt, missingAmong, type Ground } from "./clear-ground.ts";
import { proveClear } from "./clear-proof.ts";
import { provenOutcome, type Clearing } from "./clear-search.ts";
import { cureTitle } from "./clear-words.ts";
import { isStretchable } from "./stretch-search.ts";
import type { View } from "../view.ts";

/** Ramps of an even pace that are tried, as shares of the way: the gentlest first. */
const RAMPS = [0.5, 0.4, 0.3, 0.2, 0.15, 0.1] as const;

interface Easing {
  readonly title: string;
  readonly edits: TextEdits;
}

/**
 * Another ease of the way on which something is too fast or too sudden: the gentlest that ends the finding and brings no error,
 * proven by analysing the text with it. `undefined` where none does, or where pace is no matter of the finding.
 */
export function* findEase(view: View, finding: PlacedFinding): Task<Clearing | undefined> {
  const ground = isStretchable(finding) ? groundOf(view, finding) : undefined;
  if (!ground || ground.key === 0) return undefined;
  for (const { title, edits } of easings(view, ground)) {
    const text = applyEdits(ground.text, edits);
    const nears = yield* lookAt(ground, text);
    if (!nears || missingAmong(ground, nears) !== 0) continue;
    const proof = yield* proveClear(ground, view.analysis, text);
    if (!proof) continue;
    return { title: cureTitle(title, yield* provenOutcome(ground, proof), proof.warnings), edits, keepsPicture: true };
  }
  return undefined;
}

/** Ways to ease the way to the key that the finding is of, from the least that is changed. */
function easings(view: View, { key, solved }: Ground): readonly Easing[] {
  const document = { text: view.text, tree: view.tree, move: solved.move };
  const map = keyMap(document, key);
  if (!map || !keyItems(document)) return [];
  const { label } = solved.move.keys[key];
  const has = entryOf(map, "ease") !== undefined;
  const made = (title: string, change: FieldChange): Easing[] => {
    const rewriting = checked(document, fieldEdits(document, map, [change]));
    return "edits" in rewriting ? [{ title, edits: rewriting.edits }] : [];
  };
  const leave = made(`Leave the ease of ${label} away`, { kind: "remove", name: "ease" });
  const least = made(`Ease the way to ${label} by \`minimum-jerk\``, {
    kind: "set",
    name: "ease",
    value: "minimum-jerk",
  });
  const even = rampsOf(view, solved.move, key).flatMap((ramp) => {
    const written = view.tree.format === "json" ? JSON.stringify(ramp) : ramp;
    const name = (word: string): string => (view.tree.format === "json" ? JSON.stringify(word) : word);
    const value = `{ ${name("linear")}: { ${name("ramp")}: ${written} } }`;
    return made(`Take the way to ${label} at an even pace, with ramps of ${ramp}`, {
      kind: "set",
      name: "ease",
      value,
    });
  });
  return [...(has ? leave : []), ...least, ...even];
}

/** Ramps of the way to a key as its times are written. */
function rampsOf({ tree }: View, move: Ground["solved"]["move"], key: number): readonly string[] {
  const written = writtenTimesOf(move);
  const way = written[key].at - written[key - 1].leaves;
  const { at, after } = keyFieldsOf(tree)[key] ?? {};
  const style = at?.style ?? after?.style;
  // A label says when, not how long.
  const usable: TimeStyle = !style || style.kind === "label" ? { kind: "seconds", unit: " s", size: 1 } : style;
  return RAMPS.map((share) => writeTime(roundDown(share * way, usable, move.rate), usable, move.rate, 0));
}

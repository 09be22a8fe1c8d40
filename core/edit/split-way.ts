import type { Vec3 } from "../base/vec3.ts";
import { isRest, leavesAt } from "../motion/key-timing.ts";
import { entryOf } from "../syntax/tree.ts";
import type { TextEdits } from "./apply-edits.ts";
import { fieldEdits, fieldText, flowMap, type FieldChange } from "./field-edits.ts";
import { keyMap } from "./key-item.ts";
import { valueText } from "./value-text.ts";
import { pointText, type Fineness, type SolvedText } from "./write-axes.ts";

/** How the camera goes on the two halves of a way: on a path each half needs its own. */
export interface SplitPath {
  readonly field?: string;
  readonly edits: TextEdits;
}

/**
 * The path of both halves of the way from key `key` on, cut at `time` [s, played].
 */
export function splitPath(
  document: SolvedText,
  key: number,
  time: number,
  fineness: Fineness,
): SplitPath | { readonly refusal: string } {
  const { move, trajectory, tree } = document;
  const [from, next] = [move.keys[key], move.keys[key + 1]];
  const entry = entryOf(keyMap(document, key + 1), "path");
  if (!next.path || !entry) return { edits: [] };
  if (next.path.kind !== "arc-via") {
    const text = valueText(document, entry.value);
    if (text === undefined)
      return { refusal: `the \`path\` of ${next.label} is repeated elsewhere (\`*name\`): write it out first` };
    return { field: text, edits: [] };
  }
  // Each half of the arc goes through a point of its own.
  const instant = trajectory.createInstant();
  const arc = (at: number): string => {
    trajectory.at(at, instant);
    const via = pointText(document, key + 1, [...instant.position] as unknown as Vec3, fineness);
    return flowMap(tree, [["arc", flowMap(tree, [["via", via]])]]);
  };
  const rest = fieldText(tree, "path", arc((time + next.time) / 2));
  const edits = [{ span: { start: entry.start, end: entry.end }, text: rest }];
  return { field: arc((leavesAt(from) + time) / 2), edits };
}

/**
 * An ease goes from rest to rest, and a key on its way would rest too: it goes, and where it made its ends rest they are
 * said to.
 */
export function easeEdits(document: SolvedText, key: number): TextEdits {
  const { move } = document;
  const [from, next] = [move.keys[key], move.keys[key + 1]];
  if (!next.ease) return [];
  const edits = [key, key + 1].map((at): TextEdits => {
    const map = keyMap(document, at)!;
    const one = move.keys[at];
    const rests = at === 0 || at === move.keys.length - 1 || isRest(one);
    const stop: FieldChange[] = rests ? [] : [{ kind: "set", name: "stop", value: "true" }];
    if (at === key) return from.axes.length === 0 && !from.camera ? [] : fieldEdits(document, map, stop);
    // The stop stands where the ease stood.
    if (rests) return fieldEdits(document, map, [{ kind: "remove", name: "ease" }]);
    return fieldEdits(document, map, [{ kind: "replace", name: "ease", by: "stop", value: "true" }]);
  });
  return edits.flat();
}

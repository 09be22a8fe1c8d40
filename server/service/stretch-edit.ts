import type { TextCure } from "../../core/base/problem.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import { entryOf, valueOf, type ScalarNode, type TreeNode } from "../../core/syntax/tree.ts";
import { placeOfKey } from "./key-place.ts";
import type { Stretch } from "./stretch-search.ts";
import type { Solved, View } from "./view.ts";
import { roundUp, timeStyle, writeTime, type TimeStyle } from "./written-time.ts";

/** Where the time of one key is written. */
interface WrittenKey {
  readonly field: "at" | "after";
  readonly node: ScalarNode;
  readonly style: TimeStyle;
}

/** The text edits that give the keys the stretched times, in the units in which they are written. */
export function stretchEdits(
  view: View,
  solved: Solved,
  stretch: Stretch,
): { readonly edits: TextCure["edits"]; readonly duration: number } | undefined {
  const { move } = solved;
  const written = move.keys.map((_, idx) => writtenKey(view, solved, idx));
  const changed = changedKeys(stretch, written, move.keys.length);
  if (!changed) return undefined;
  const styles = changed.map(({ style }) => style);
  const times = stretchedTimes(move, stretch, styles);
  const edits = changed.map(({ idx, field, node, style }) => {
    const value = field === "at" ? times[idx] : times[idx] - times[idx - 1];
    const text = writeTime(value, style, move.rate, field === "at" ? move.startFrame : 0);
    return { span: { start: node.start, end: node.end }, text: quoted(view.text, node, text) };
  });
  return { edits, duration: times[stretch.to] - times[stretch.from] };
}

/** Keys of the segments, and all later ones that are written from the beginning of the move. */
function changedKeys(
  { from, to }: Stretch,
  written: readonly (WrittenKey | undefined)[],
  count: number,
): (WrittenKey & { idx: number })[] | undefined {
  const changed: (WrittenKey & { idx: number })[] = [];
  for (let idx = from + 1; idx < count; idx += 1) {
    const key = written[idx];
    if (!key) return undefined;
    if (idx <= to || key.field === "at") changed.push({ ...key, idx });
    // A key written from the one before it moves along, and so do all that are written from it.
  }
  return changed;
}

/** Written times of all keys once stretched: what is rounded is rounded up, later keys keep their distances. */
function stretchedTimes({ keys, speed, rate }: ResolvedMove, stretch: Stretch, styles: readonly TimeStyle[]): number[] {
  const { from, to, factor } = stretch;
  const before = keys.map((key) => key.time * speed);
  const times = [...before];
  for (let idx = from + 1; idx <= to; idx += 1) {
    times[idx] = times[idx - 1] + roundUp((before[idx] - before[idx - 1]) * factor, styles, rate);
  }
  const shift = times[to] - before[to];
  for (let idx = to + 1; idx < keys.length; idx += 1) times[idx] = before[idx] + shift;
  return times;
}

function writtenKey(view: View, solved: Solved, idx: number): WrittenKey | undefined {
  const place = placeOfKey(solved, idx);
  const list = valueOf(entryOf(view.tree.root, "keys")?.value);
  if (place?.file !== view.file || list?.kind !== "list") return undefined;
  const item = list.items.find((each) => each && each.start <= place.span.start && place.span.start < each.end);
  for (const field of ["at", "after"] as const) {
    const node: TreeNode | undefined = entryOf(item, field)?.value;
    if (node?.kind !== "scalar") continue;
    const style = timeStyle(node.value);
    return style && { field, node, style };
  }
  return undefined;
}

/** Keeps the quotes of a value that has them. */
function quoted(text: string, node: ScalarNode, value: string): string {
  const mark = text[node.start];
  return mark === '"' || mark === "'" ? mark + value + mark : value;
}

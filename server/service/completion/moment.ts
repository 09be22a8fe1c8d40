import { lastIndexWhere } from "../../../core/base/last-index.ts";
import { parseTime } from "../../../core/base/timecode.ts";
import { nodeAt, type Path } from "../../../core/syntax/locate.ts";
import { entryOf, valueOf, type TreeNode } from "../../../core/syntax/tree.ts";
import type { ResolvedKey, ResolvedMove } from "../../../core/motion/resolved-move.ts";
import type { Instant } from "../../../core/motion/trajectory.ts";
import { keyAtOffset, placeOfKey } from "../key-place.ts";
import type { Solved, View } from "../view.ts";

/** The solved move at the key that is being written, which may not be solved itself yet. */
export interface Moment {
  readonly solved: Solved;
  /** At the key's own time, or at that of the key before where it has none yet. */
  readonly instant: Instant;
  /** `at top`, `at 2.5 s`, `at top, the key before`. */
  readonly when: string;
  /** False where the key's own time is not known: values are then those of the key before. */
  readonly here: boolean;
  /** Its neighbours in time, by index. */
  readonly before: number | undefined;
  readonly after: number | undefined;
}

/** The moment of the key that `path` leads into, `offset` being in its text; `undefined` where nothing is solved. */
export function momentAt({ solved, tree, file }: View, path: Path, offset: number): Moment | undefined {
  const [section, index] = path;
  if (!solved || section !== "keys" || typeof index !== "number" || solved.move.keys.length === 0) return undefined;
  const { keys } = solved.move;
  const there = nodeAt(tree, [section, index]);
  // A key that begins behind the cursor is the next one: that of the cursor has no text yet.
  const node = there && there.start <= offset ? there : undefined;
  const previous = keyAtOffset(solved, file, Math.max(0, (node?.start ?? offset) - 1)) ?? lastBefore(solved, offset);
  const time = node && writtenTime(solved.move, node, previous);
  const own = node && (time === undefined ? keyFrom(solved, node.start) : keyAt(keys, time));
  if (own !== undefined) return atTime(solved, keys[own].time, `at ${keys[own].label}`, own);
  if (time !== undefined) return atTime(solved, time, `at ${timeWords(time)}`);
  if (previous === undefined) return undefined;
  const { label, time: then } = keys[previous];
  const after = previous + 1 < keys.length ? previous + 1 : undefined;
  return { ...atTime(solved, then, `at ${label}, the key before`), here: false, before: previous, after };
}

/** The key whose text begins there. */
function keyFrom(solved: Solved, start: number): number | undefined {
  const found = solved.move.keys.findIndex((_, key) => placeOfKey(solved, key)?.span.start === start);
  return found < 0 ? undefined : found;
}

/** The key at a time. While a text grows in front of a key, its time is what tells it from the new one. */
function keyAt(keys: readonly ResolvedKey[], time: number): number | undefined {
  const found = keys.findIndex((key) => Math.abs(key.time - time) < SAME_TIME);
  return found < 0 ? undefined : found;
}

/** [s] Far below a frame. */
const SAME_TIME = 1e-6;

/** The last key whose text stands before an offset that is behind all keys. */
function lastBefore(solved: Solved, offset: number): number | undefined {
  const starts = solved.move.keys.map((_, key) => placeOfKey(solved, key)?.span.start ?? Infinity);
  const found = lastIndexWhere(starts, (start) => start < offset);
  return found < 0 ? undefined : found;
}

function atTime(solved: Solved, time: number, when: string, own?: number): Moment {
  const { trajectory, move } = solved;
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  const before = own === undefined ? lastIndexWhere(move.keys, (key) => key.time <= time) : own - 1;
  const after = own === undefined ? move.keys.findIndex((key) => key.time > time) : nextOf(own, move.keys.length);
  return {
    solved,
    instant,
    when: solved.stale ? `${when}, as last solved` : when,
    here: true,
    before: before < 0 ? undefined : before,
    after: after < 0 ? undefined : after,
  };
}

function nextOf(key: number, count: number): number {
  return key + 1 < count ? key + 1 : -1;
}

/** When a key that is not solved yet is played [s], by what it says of its time. */
function writtenTime(move: ResolvedMove, node: TreeNode, previous: number | undefined): number | undefined {
  const said = (name: string): number | undefined => {
    const value = valueOf(entryOf(node, name)?.value);
    if (value?.kind !== "scalar" || value.value === null || typeof value.value === "boolean") return undefined;
    const time = parseTime(value.value, move.rate, name === "at" ? move.startFrame : 0);
    return time.ok ? time.value : undefined;
  };
  const at = said("at");
  if (at !== undefined) return playedTime(move, at);
  const after = said("after");
  const from = previous === undefined ? undefined : move.keys[previous];
  return after === undefined || !from ? undefined : from.time + (from.hold ?? 0) + after / move.speed;
}

/** Played time of a written one, evenly between the keys around it: near enough to look at what holds there. */
function playedTime({ keys, speed }: ResolvedMove, written: number): number {
  const writtenOf = (key: ResolvedKey): number => key.written ?? key.time * speed;
  const next = keys.findIndex((key) => writtenOf(key) > written);
  if (next <= 0) return next === 0 ? 0 : keys[keys.length - 1].time;
  const [a, b] = [keys[next - 1], keys[next]];
  return a.time + ((written - writtenOf(a)) / (writtenOf(b) - writtenOf(a))) * (b.time - a.time);
}

function timeWords(time: number): string {
  return `${Number(time.toFixed(3))} s`;
}

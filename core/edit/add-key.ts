import { parseTime } from "../base/timecode.ts";
import type { Vec3 } from "../base/vec3.ts";
import { aimingAxes } from "../model/move-context.ts";
import { playedAt } from "../motion/clock.ts";
import { keyTimingOf } from "../motion/key-timing.ts";
import { entryOf } from "../syntax/tree.ts";
import type { TextEdits } from "./apply-edits.ts";
import { exactTime } from "./exact-time.ts";
import { checked, flowMap, type Rewriting } from "./field-edits.ts";
import { aimHolds } from "./key-aimed.ts";
import { keyItems, keyList, keyMap } from "./key-item.ts";
import { insertItem, type Fields } from "./list-edits.ts";
import { statedTimes } from "./restate-times.ts";
import { keyFieldsOf } from "./time-fields.ts";
import { axisFields, pointText, type SolvedText } from "./write-axes.ts";
import { writeTime } from "./written-time.ts";

/** A key on the way, and when it is played [s]. */
export interface AddedKey {
  readonly time: number;
  /** Edits that add it, best first: the values of its axes, or the place of the camera. */
  readonly ways: readonly Rewriting[];
}

/** A way this short has no room for a key [s]. */
const NO_ROOM = 1e-6;

/**
 * A key half way from key `key` to the next one, with the values that the move has there: each channel goes on as it went.
 * Its time is written as the next key's is. `undefined` behind the last key.
 */
export function addKey(document: SolvedText, key: number): AddedKey | { readonly refusal: string } | undefined {
  const { move, tree, text } = document;
  const [map, nextMap] = [keyMap(document, key), keyMap(document, key + 1)];
  const list = keyList(document);
  if (!map || !nextMap || !list || !keyItems(document)) return undefined;
  const next = move.keys[key + 1];
  if (next.ease) return { refusal: `the ease of ${next.label} goes from rest to rest: a key on its way would stop it` };
  if (next.path?.kind === "arc-via") {
    return {
      refusal: `${next.label} is reached on an arc through a point: a key on its way would need a point of its own`,
    };
  }
  const split = splitTime(document, key);
  if (!split || "refusal" in split) return split;
  const time = playedTime(document, split.written);
  const path = entryOf(nextMap, "path")?.value;
  const pathText = path && next.path ? text.slice(path.start, path.end) : undefined;
  if (pathText?.includes("\n")) return { refusal: `the \`path\` of ${next.label} is not on one line` };
  const asText: Fields = [split.field];
  const valued = valueFields(document, key, time, pathText !== undefined);
  const ways = valued.flatMap((fields) => {
    const withPath: Fields = pathText === undefined ? [] : [["path", pathText]];
    const put = insertItem({ text, tree }, list, key, [...asText, ...withPath, ...fields]);
    return put ? [checked(document, [...put, ...split.edits])] : [];
  });
  return { time, ways };
}

interface Split {
  /** The new key's own time, as a field. */
  readonly field: readonly [string, string];
  /** When it is, in written time from the first key on [s]. */
  readonly written: number;
  /** What the next key's time becomes. */
  readonly edits: TextEdits;
}

function splitTime(document: SolvedText, key: number): Split | { readonly refusal: string } | undefined {
  const { tree, move } = document;
  const fields = keyFieldsOf(tree);
  const times = statedTimes(document, fields);
  const [at, after] = [fields[key + 1]?.at, fields[key + 1]?.after];
  const field = at ?? after;
  if (!times || !field) return undefined;
  const from = times[key].at + times[key].hold;
  const to = times[key + 1].at;
  const offset = at ? move.startFrame : 0;
  const half = (from + to) / 2;
  const written = writeTime(at ? half : half - from, field.style, move.rate, offset);
  const parsed = parseTime(written, move.rate, offset);
  if (!parsed.ok) return undefined;
  const middle = at ? parsed.value : from + parsed.value;
  if (!(from + NO_ROOM < middle && middle < to - NO_ROOM)) {
    return { refusal: `there is no time to write between ${move.keys[key].label} and ${move.keys[key + 1].label}` };
  }
  const { start, end } = field.node;
  const mark = field.node.style === "quoted" && tree.format === "yaml" ? document.text[start] : "";
  const rest = exactTime(to - middle, field.style, move.rate, 0);
  const spelt = tree.format === "json" && field.node.style === "quoted" ? JSON.stringify(rest) : mark + rest + mark;
  return {
    field: [at ? "at" : "after", mark + written + mark],
    written: middle - times[0].at,
    edits: at ? [] : [{ span: { start, end }, text: spelt }],
  };
}

/** When a written time is played [s]. */
function playedTime({ move }: SolvedText, written: number): number {
  return playedAt(keyTimingOf(move.keys).clock, written / move.speed);
}

/** What the new key gives, best first. */
function valueFields(document: SolvedText, key: number, time: number, onPath: boolean): Fields[] {
  const { move, tree, trajectory } = document;
  const ends = [move.keys[key], move.keys[key + 1]];
  const aiming = aimHolds(move, key) ? aimingAxes(move.rig, move.axes) : new Set<number>();
  const stated = new Set(ends.flatMap(({ axes }) => axes.map(({ axis }) => axis)));
  const solved = ends.some(({ camera }) => camera);
  const given = move.axes.flatMap(({ role, joint }, axis) => {
    const isRoll = 0 <= joint && move.rig.head?.roll === joint;
    const isGiven = stated.has(axis) || (solved && role === "driven" && !isRoll);
    return isGiven && !aiming.has(axis) ? [axis] : [];
  });
  const mapOf = (axes: readonly number[]): Fields => {
    const fields = axisFields(document, key + 1, axes, time);
    return fields.length === 0 ? [] : [["axes", flowMap(tree, fields)]];
  };
  const byAxes = mapOf(given);
  if (!(onPath || ends.every(({ camera }) => camera)) || !aimHolds(move, key)) return [byAxes];
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  const tables = mapOf(given.filter((axis) => move.axes[axis].role === "turntable"));
  const byCamera = (["stored", "exact"] as const).map((fineness): Fields => {
    const point = pointText(document, key + 1, [...instant.position] as unknown as Vec3, fineness);
    return [...tables, ["camera", flowMap(tree, [["at", point]])]];
  });
  return onPath ? byCamera : [...byCamera, byAxes];
}

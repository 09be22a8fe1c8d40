import { parseTime } from "../base/timecode.ts";
import type { Vec3 } from "../base/vec3.ts";
import { aimingAxes } from "../model/move-context.ts";
import { playedAt, writtenAt } from "../motion/clock.ts";
import { keyTimingOf, leavesAt } from "../motion/key-timing.ts";
import type { TextEdits } from "./apply-edits.ts";
import { exactTime } from "./times/exact-time.ts";
import { checked, flowMap, type Rewriting } from "./field-edits.ts";
import { aimHolds } from "./key-aimed.ts";
import { keyItems, keyList, keyMap } from "./key-item.ts";
import { insertItem, type Fields } from "./list-edits.ts";
import { statedTimes } from "./times/restate-times.ts";
import { keyFieldsOf } from "./times/time-fields.ts";
import { easeEdits, splitPath } from "./split-way.ts";
import { axisFields, pointText, type Fineness, type SolvedText } from "./write-axes.ts";
import { writeTime } from "./times/written-time.ts";

/** A key on the way, and when it is played [s]. */
export interface AddedKey {
  readonly time: number;
  /** Edits that add it, best first: the values of its axes, or the place of the camera. */
  readonly ways: readonly Rewriting[];
}

/** A way this short has no room for a key [s]. */
const NO_ROOM = 1e-6;

/**
 * A key on the way from key `key` to the next one, with the values that the move has there: each channel goes on as it went.
 * Its time is written as the next key's is. `undefined` behind the last key.
 *
 * @param at When, in played time [s]; absent: half way.
 */
export function addKey(
  document: SolvedText,
  key: number,
  at?: number,
): AddedKey | { readonly refusal: string } | undefined {
  const { tree, text } = document;
  const [map, nextMap] = [keyMap(document, key), keyMap(document, key + 1)];
  const list = keyList(document);
  if (!map || !nextMap || !list || !keyItems(document)) return undefined;
  const split = splitTime(document, key, at);
  if (!split || "refusal" in split) return split;
  const time = playedTime(document, split.written);
  const uneased = easeEdits(document, key);
  const place = (fields: Fields, edits: TextEdits): Rewriting[] => {
    const put = insertItem({ text, tree }, list, key, [split.field, ...fields]);
    return put ? [checked(document, [...put, ...split.edits, ...edits, ...uneased])] : [];
  };
  const ways: Rewriting[] = [];
  for (const { fineness, rounds } of document.move.keys[key + 1].path ? ON_PATH : BESIDE_PATHS) {
    const path = splitPath(document, key, time, fineness);
    if ("refusal" in path) return path;
    const withPath: Fields = path.field === undefined ? [] : [["path", path.field], ...rounds];
    const fields = valueFields(document, key, time, fineness, path.field !== undefined);
    if (fields) ways.push(...place([...withPath, ...fields], path.edits));
  }
  if (!document.move.keys[key + 1].path) ways.push(...place(axisValueFields(document, key, time), []));
  return { time, ways };
}

/**
 * A key at a time of the move [s, played], on the way that it falls on; or why there is none there.
 */
export function addKeyAt(document: SolvedText, time: number): AddedKey | { readonly refusal: string } {
  const { move } = document;
  if (!keyItems(document)) return { refusal: "a key of the text could not be read: mend it first" };
  const there = move.keys.find((one) => Math.abs(one.time - time) <= HALF_FRAME / rateOf(move));
  if (there) return { refusal: `\`${there.label}\` is at that time already` };
  const key = move.keys.filter((one) => one.time < time).length - 1;
  if (key < 0 || leavesAt(move.keys[key]) >= time) {
    const held = move.keys[Math.max(0, key)];
    return { refusal: `\`${held.label}\` is held at that time: let the hold be shorter first` };
  }
  if (key === move.keys.length - 1)
    return { refusal: `\`${move.keys[key].label}\` is the last key, and the move ends there` };
  return (
    addKey(document, key, time) ?? {
      refusal: `\`${move.keys[key].label}\` or the key behind it is repeated elsewhere (\`&name\`, \`*name\`): write it out first`,
    }
  );
}

/** Of a frame: what is nearer is at the same time. */
const HALF_FRAME = 0.5;
const rateOf = ({ rate }: SolvedText["move"]): number => rate.num / rate.den;

interface Split {
  /** The new key's own time, as a field. */
  readonly field: readonly [string, string];
  /** When it is, in written time from the first key on [s]. */
  readonly written: number;
  /** What the next key's time becomes. */
  readonly edits: TextEdits;
}

function splitTime(
  document: SolvedText,
  key: number,
  played?: number,
): Split | { readonly refusal: string } | undefined {
  const { tree, move } = document;
  const fields = keyFieldsOf(tree);
  const times = statedTimes(document, fields);
  const [at, after] = [fields[key + 1]?.at, fields[key + 1]?.after];
  const field = at ?? after;
  if (!times || !field) return undefined;
  const from = times[key].at + times[key].hold;
  const to = times[key + 1].at;
  const offset = at ? move.startFrame : 0;
  const wanted = played === undefined ? (from + to) / 2 : times[0].at + writtenTime(document, played);
  const written = writeTime(at ? wanted : wanted - from, field.style, move.rate, offset);
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

/** When a played time is written, from the first key on [s]. */
function writtenTime({ move }: SolvedText, played: number): number {
  return writtenAt(keyTimingOf(move.keys).clock, played) * move.speed;
}

/** When a written time is played [s]. */
function playedTime({ move }: SolvedText, written: number): number {
  return playedAt(keyTimingOf(move.keys).clock, written / move.speed);
}

/** What of its axes the new key gives. */
function axisValueFields(document: SolvedText, key: number, time: number): Fields {
  return mapOf(document, key, time, givenAxes(document, key));
}

function givenAxes({ move }: SolvedText, key: number): readonly number[] {
  const ends = [move.keys[key], move.keys[key + 1]];
  const aiming = aimHolds(move, key) ? aimingAxes(move.rig, move.axes) : new Set<number>();
  const stated = new Set(ends.flatMap(({ axes }) => axes.map(({ axis }) => axis)));
  const solved = ends.some(({ camera }) => camera);
  return move.axes.flatMap(({ role, joint }, axis) => {
    const isRoll = 0 <= joint && move.rig.head?.roll === joint;
    const isGiven = stated.has(axis) || (solved && role === "driven" && !isRoll);
    return isGiven && !aiming.has(axis) ? [axis] : [];
  });
}

function mapOf(document: SolvedText, key: number, time: number, axes: readonly number[]): Fields {
  const fields = axisFields(document, key + 1, axes, time);
  return fields.length === 0 ? [] : [["axes", flowMap(document.tree, fields)]];
}

/** What the new key gives by the camera's place; `undefined` where its neighbours don't give that, or nothing is aimed at. */
function valueFields(
  document: SolvedText,
  key: number,
  time: number,
  fineness: Fineness,
  onPath: boolean,
): Fields | undefined {
  const { move, tree, trajectory } = document;
  const ends = [move.keys[key], move.keys[key + 1]];
  if (!aimHolds(move, key)) return onPath && fineness === "stored" ? axisValueFields(document, key, time) : undefined;
  if (!onPath && !ends.every(({ camera }) => camera)) return undefined;
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  const tables = givenAxes(document, key).filter((axis) => move.axes[axis].role === "turntable");
  const point = pointText(document, key + 1, [...instant.position] as unknown as Vec3, fineness);
  return [...mapOf(document, key, time, tables), ["camera", flowMap(tree, [["at", point]])]];
}

/** How finely the camera's place is written, best first, and a rounding of what turns where a path is cut. */
interface Finish {
  readonly fineness: Fineness;
  readonly rounds: Fields;
}

const BESIDE_PATHS: readonly Finish[] = [
  { fineness: "stored", rounds: [] },
  { fineness: "exact", rounds: [] },
];
const ON_PATH: readonly Finish[] = [
  ...BESIDE_PATHS,
  { fineness: "whole", rounds: [] },
  { fineness: "stored", rounds: [["blend", "1 mm"]] },
];

import { frameTime } from "../../base/rate.ts";
import { parseTime } from "../../base/timecode.ts";
import { formatQuantity } from "../../base/units.ts";
import { clockFromWritten, playedAt } from "../../motion/clock.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { keyItems } from "../key-item.ts";
import { statedTimes, type StatedTime } from "../times/restate-times.ts";
import { putTime, putWrittenTime, sharedTime, type TimeWriting } from "../times/put-time.ts";
import { keyFieldsOf, sharedSpans } from "../times/time-fields.ts";
import { roundDown, roundUp, stepOf, writeTime, type TimeStyle } from "../times/written-time.ts";
import { writtenTimesOf, type WrittenTime } from "../times/written-times.ts";
import { keyLabel, type ShapedMove, type Shaping, type ShapeStop } from "./shaped.ts";

/** From one key to the next at least [frames]: nearer keys are on one picture. */
const LEAST_WAY = 1;

/**
 * Lets a key come at another time, between its neighbours; every other key stays when it is, also one that counts from this
 * one. The time keeps its notation, so one that counts frames stays on a frame.
 *
 * @param played [s]
 */
export function shapeTime(document: ShapedMove, key: number, played: number): Shaping {
  const { tree, move, file } = document;
  const fields = keyFieldsOf(tree);
  const times = statedTimes(document, fields);
  const label = keyLabel(move, key);
  if (!times || !keyItems(document)) return { refusal: "the time of a key cannot be read: mend it first" };
  if (key === 0) return { refusal: `a move begins with its first key, ${label}: drag the keys behind it` };
  const { at, after } = fields[key];
  const field = at ?? after;
  if (!field) return { refusal: `the time of ${label} cannot be read: mend it first` };
  const from = at ? 0 : times[key - 1].at + times[key - 1].hold;
  const room = roomOf(move, times, key);
  const wanted = times[0].at + writtenFor(move, key, played);
  const time = settled(wanted - from, field.style, move, { low: room.low - from, high: room.high - from }) + from;
  const stop = stopOf(move, times, key, wanted, room);
  const writing: TimeWriting = { document, shared: sharedSpans(tree), edits: [] };
  const offset = at ? move.startFrame : 0;
  const spelled = writeTime(time - from, field.style, move.rate, offset);
  const parsed = parseTime(spelled, move.rate, offset);
  const stands = parsed.ok ? parsed.value + from : time;
  if (Math.abs(stands - times[key].at) < stepOf(field.style, move.rate) / 2) {
    return { file, edits: [], says: `${label} stays at ${spelled}`, ...(stop && { stop }) };
  }
  if (!putWrittenTime(writing, field, spelled)) return sharedTime(label);
  // A key that counts from this one stays when it is.
  const next = fields[key + 1]?.at ? undefined : fields[key + 1]?.after;
  if (next && !putTime(writing, next, times[key + 1].at - stands - times[key].hold, 0)) {
    return sharedTime(keyLabel(move, key + 1));
  }
  const says = at ? `${label} comes at ${spelled}` : `${label} comes ${spelled} after ${keyLabel(move, key - 1)}`;
  return { file, edits: writing.edits, says, ...(stop && { stop }) };
}

/** Between what a key's written time may be [s]. */
interface Room {
  readonly low: number;
  readonly high: number;
}

function roomOf(move: ResolvedMove, times: readonly StatedTime[], key: number): Room {
  const least = LEAST_WAY * frameTime(move.rate, 1) * move.speed;
  const [before, own, next] = [times[key - 1], times[key], times[key + 1]];
  const left = before.at + before.hold;
  // A way that is shorter already is not made longer.
  const low = Math.min(own.at, left + least);
  return { low, high: next ? Math.max(own.at, next.at - own.hold - least) : Infinity };
}

/** The nearest time inside the room that the style can write. */
function settled(time: number, style: TimeStyle, { rate }: ResolvedMove, { low, high }: Room): number {
  if (time <= low) return roundUp(low, style, rate);
  if (high <= time) return roundDown(high, style, rate);
  const step = stepOf(style, rate);
  const near = Math.round(time / step) * step;
  return near < low - 1e-9 ? roundUp(low, style, rate) : high + 1e-9 < near ? roundDown(high, style, rate) : near;
}

function stopOf(
  move: ResolvedMove,
  times: readonly StatedTime[],
  key: number,
  wanted: number,
  { low, high }: Room,
): ShapeStop | undefined {
  const slack = frameTime(move.rate, 1) / 2;
  const label = keyLabel(move, key);
  const say = (time: number): string => formatQuantity(time, "time");
  if (wanted < low - slack) {
    const { at, hold } = times[key - 1];
    const left = 0 < hold ? `is held until ${say(at + hold)}` : `is at ${say(at)}`;
    return { words: `${label} comes behind ${keyLabel(move, key - 1)}, which ${left}: drag that one first` };
  }
  if (wanted <= high + slack) return undefined;
  const held = 0 < times[key].hold ? ` with its hold of ${say(times[key].hold)}` : "";
  const next = `${keyLabel(move, key + 1)}, which is at ${say(times[key + 1].at)}`;
  return { words: `${label}${held} comes before ${next}: drag that one first` };
}

/** Rounds in which a written time and the clock that it changes settle on each other. */
const ROUNDS = 40;

/**
 * When a key is written, counted from the first one, so that it is played at `played`, both in s. Where keys give speeds
 * the written time itself is part of the clock: it is found between its neighbours by halving.
 */
function writtenFor(move: ResolvedMove, key: number, played: number): number {
  const written = writtenTimesOf(move);
  if (move.keys.every(({ speed }) => !speed)) return played * move.speed;
  const own = written[key];
  let low = written[key - 1].leaves;
  let high = (written[key + 1]?.at ?? Infinity) - (own.leaves - own.at);
  // Behind the last key time goes on at its speed, so a bound is soon found.
  if (!Number.isFinite(high)) for (high = own.at + 1; playedWith(move, written, key, high) < played;) high *= 2;
  for (let round = 0; round < ROUNDS; round++) {
    const middle = (low + high) / 2;
    if (playedWith(move, written, key, middle) < played) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function playedWith(move: ResolvedMove, times: readonly WrittenTime[], key: number, at: number): number {
  const paces = move.keys.flatMap(({ speed }, i) => {
    if (!speed) return [];
    const by = i === key ? at - times[i].at : 0;
    return [times[i].at + by, times[i].leaves + by].map((time) => ({ time: time / move.speed, share: speed.share }));
  });
  return playedAt(clockFromWritten(paces), at / move.speed);
}

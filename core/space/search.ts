import type { Task } from "../base/task.ts";
import type { Course } from "./course.ts";
import { createMotionBounds, enterInterval, enterSpan } from "./motion-bounds.ts";
import { lowerBound, type Look } from "./pair-bound.ts";
import { createPairRoom, measurePair, type Pairs } from "./pairs.ts";
import { createPlaced, placeBodies, type Placed, type Space } from "./space.ts";
import type { Side } from "../motion/trajectory.ts";

/** [s] A span this short is judged by its middle alone: where a distance crosses a bound is known to this. */
const CROSSING_TIME = 1e-5;
/** [s] Below two and a half frames: within a span this short, what is near at its ends and its middle is near throughout. */
const NEAR_THROUGHOUT = 0.1;
/** [m], [s] To what a least distance is found. */
const LEAST_SLACK = 5e-7;
const LEAST_TIME = 1e-6;
/** Spans of time that are looked at between two yields. */
const SLICE = 16;
/** Instants at which depths of overlap are compared: a depth takes long, and need not be known so well. */
const DEPTH_INSTANTS = 6;

/** A stretch of time in which a group of pairs is nearer than a bound. */
export interface NearSpan {
  readonly group: number;
  readonly from: number;
  to: number;
  /** The nearest that was seen: by which pair, when [s], how near [m]. */
  pair: number;
  t: number;
  distance: number;
}

/** The least distance of some pairs: the pair, when [s], how much [m]. */
export type Least = Pick<NearSpan, "pair" | "t" | "distance">;

type Found = { -readonly [K in keyof Least]: Least[K] };

/** What searching needs; one for each space, pairs and course. */
export interface Search {
  readonly look: Look;
  readonly course: Course;
  /** Places of the span's ends, then of the middles of ever shorter spans; made as needed. */
  readonly places: Placed[];
  /** Pairs still to be looked at, by depth. */
  readonly open: Int32Array[];
  /** Spans of time that are being halved, by depth. */
  readonly spans: Halved[];
}

/** A span of time about its middle, the pairs that are open in its halves, and how many of these were begun. */
interface Halved {
  a: Placed;
  m: Placed;
  b: Placed;
  count: number;
  /** The later half comes first. */
  falls: boolean;
  begun: number;
}

export function createSearch(space: Space, pairs: Pairs, course: Course): Search {
  const bounds = createMotionBounds(space);
  const look = { space, pairs, bounds, room: createPairRoom(), distance: NaN, shift: NaN, first: NaN, last: NaN };
  return { look, course, places: [], open: [], spans: [] };
}

/**
 * Looks at a span of time, then at its halves while a pair is left open, and so on, one half before the other.
 *
 * @param look Looks at the span at a depth, whose ends and middle are placed; it sets `count` and `falls` for the halves.
 */
function* halving(
  search: Search,
  a: Placed,
  b: Placed,
  count: number,
  look: (span: Halved, depth: number) => void,
): Task<void> {
  const { spans } = search;
  const enter = (depth: number, from: Placed, to: Placed, open: number): void => {
    const m = placeAt(search, (from.t + to.t) / 2, "right", depth + 2);
    enterSpan(search.look.bounds, search.look.space, from, m, to);
    const span = (spans[depth] ??= { a, m, b, count, falls: false, begun: 0 });
    span.a = from;
    span.m = m;
    span.b = to;
    span.count = open;
    span.falls = false;
    span.begun = 0;
    look(span, depth);
  };
  enter(0, a, b, count);
  let seen = 1;
  for (let depth = 0; 0 <= depth;) {
    const span = spans[depth];
    if (span.count === 0 || span.begun === 2) {
      depth -= 1;
      continue;
    }
    const isLater = (span.begun === 0) === span.falls;
    span.begun += 1;
    depth += 1;
    enter(depth, isLater ? span.m : span.a, isLater ? span.b : span.m, span.count);
    if (++seen % SLICE === 0) yield;
  }
}

/** Everything placed at one instant; `depth` tells which room is used for it. */
export function placeAt({ look, course, places }: Search, t: number, side: Side, depth: number): Placed {
  while (places.length <= depth) places.push(createPlaced(look.space));
  const placed = places[depth];
  course.writeAt(t, side, placed);
  placeBodies(look.space, placed);
  return placed;
}

function openAt({ look, open }: Search, depth: number): Int32Array {
  while (open.length <= depth) open.push(new Int32Array(look.pairs.count));
  return open[depth];
}

/**
 * Where groups of pairs are nearer than `bound` [m] from `from` to `to` [s], within one interval of the course; of each
 * group in order of time. Between samples too: outside of these spans no pair is nearer, to 1e-5 s.
 */
export function* spansBelow(
  search: Search,
  interval: number,
  from: number,
  to: number,
  bound: number,
): Task<NearSpan[]> {
  const { pairs, bounds } = search.look;
  enterInterval(bounds, search.course, interval);
  const out: NearSpan[] = [];
  const last = new Int32Array(pairs.groups).fill(-1);
  const all = openAt(search, 0);
  for (let idx = 0; idx < pairs.count; idx++) all[idx] = idx;
  const a = placeAt(search, from, "right", 0);
  const b = placeAt(search, to, from < to ? "left" : "right", 1);
  yield* halving(search, a, b, pairs.count, (span, depth) => lookBelow(search, bound, span, depth, out, last));
  return out;
}

function lookBelow(
  search: Search,
  bound: number,
  span: Halved,
  depth: number,
  out: NearSpan[],
  last: Int32Array,
): void {
  const { look } = search;
  const { pairs, bounds } = look;
  const { a, m, b, count } = span;
  const open = openAt(search, depth);
  const left = openAt(search, depth + 1);
  let kept = 0;
  for (let i = 0; i < count;) {
    const group = pairs.group[open[i]];
    const first = kept;
    let nearest = -1;
    let distance = Infinity;
    let isNear = false;
    for (; i < count && pairs.group[open[i]] === group; i++) {
      const idx = open[i];
      if (isNear || bound <= lowerBound(look, idx, a, m, b, bound)) continue;
      left[kept++] = idx;
      if (look.distance < distance) {
        distance = look.distance;
        nearest = idx;
      }
      isNear = look.distance + look.shift < bound;
    }
    if (kept === first) continue;
    const width = b.t - a.t;
    const isShort = width <= Math.max(CROSSING_TIME, bounds.shortest);
    if (!isNear && distance < bound) {
      isNear =
        isShort || (width <= NEAR_THROUGHOUT && isBelow(look, nearest, a, bound) && isBelow(look, nearest, b, bound));
    }
    if (isNear) note(out, last, { group, from: a.t, to: b.t, pair: nearest, t: m.t, distance });
    if (isNear || isShort) kept = first;
  }
  span.count = kept;
}

const isBelow = (look: Look, idx: number, at: Placed, bound: number): boolean =>
  measurePair(look.space, look.pairs, idx, at, look.room, bound, "unknown") < bound && !look.room.gap.bound;

/** Goes on with the last span of the group, or begins another. */
function note(out: NearSpan[], last: Int32Array, span: NearSpan): void {
  const before = out[last[span.group]];
  if (before?.to !== span.from) {
    last[span.group] = out.push(span) - 1;
    return;
  }
  before.to = span.to;
  if (span.distance < before.distance) Object.assign(before, { pair: span.pair, t: span.t, distance: span.distance });
}

/**
 * The least distance of the pairs `which` from `from` to `to` [s] within one interval of the course, if it is less than that of
 * `known`, else `known`. No instant between the samples has a distance smaller by more than 1e-6 m. Where pairs overlap, the
 * deepest of a few instants counts.
 */
export function* leastIn(
  search: Search,
  interval: number,
  from: number,
  to: number,
  which: ArrayLike<number>,
  known: Least,
): Task<Least> {
  enterInterval(search.look.bounds, search.course, interval);
  openAt(search, 0).set(which);
  const best = { ...known };
  const a = placeAt(search, from, "right", 0);
  const b = placeAt(search, to, from < to ? "left" : "right", 1);
  if (0 < best.distance)
    yield* halving(search, a, b, which.length, (span, depth) => lookLeast(search, span, depth, best));
  if (best.distance <= 0) writeDeepest(search, from, to, which, best);
  return best;
}

function writeDeepest(search: Search, from: number, to: number, which: ArrayLike<number>, best: Found): void {
  const { look } = search;
  const met = best.t;
  for (let i = 0; i <= DEPTH_INSTANTS; i++) {
    // The instant at which they were seen to overlap is one of them.
    const t = i === DEPTH_INSTANTS ? met : from + ((to - from) * i) / (DEPTH_INSTANTS - 1);
    const placed = placeAt(search, t, t < to ? "right" : "left", 0);
    for (let k = 0; k < which.length; k++) {
      const idx = which[k];
      if (0 < measurePair(look.space, look.pairs, idx, placed, look.room, 0, "unknown")) continue;
      const distance = measurePair(look.space, look.pairs, idx, placed, look.room);
      if (distance < best.distance) Object.assign(best, { pair: idx, t, distance });
    }
  }
}

/** Once an overlap is found, nothing more is looked at. */
function lookLeast(search: Search, span: Halved, depth: number, best: Found): void {
  const { look } = search;
  const { a, m, b, count } = span;
  span.count = 0;
  if (best.distance <= 0) return;
  const open = openAt(search, depth);
  const left = openAt(search, depth + 1);
  let kept = 0;
  let lowest = Infinity;
  let falls = false;
  for (let i = 0; i < count; i++) {
    const idx = open[i];
    const lower = lowerBound(look, idx, a, m, b, best.distance - LEAST_SLACK);
    if (look.distance < best.distance) {
      best.distance = look.distance;
      best.pair = idx;
      best.t = m.t;
    }
    if (best.distance - LEAST_SLACK <= lower) continue;
    left[kept++] = idx;
    if (lower < lowest) {
      lowest = lower;
      falls = look.last < look.first;
    }
  }
  // The half that goes down first: what is found there saves looking at the other closely.
  span.falls = falls;
  if (Math.max(LEAST_TIME, look.bounds.shortest) < b.t - a.t) span.count = kept;
}

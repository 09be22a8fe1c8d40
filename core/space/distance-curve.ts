import type { Task } from "../base/task.ts";
import { measurePair, roughGap } from "./pairs.ts";
import { placeAt, type Search } from "./search.ts";

/** The least distance of all pairs over time. */
export interface DistanceCurve {
  /** Ascending [s], shape (n,). */
  readonly t: Float64Array;
  /** [m], shape (n,); below 0 by how much the nearest two overlap. */
  readonly distance: Float64Array;
  /** The nearest pair, shape (n,). */
  readonly pair: Int32Array;
}

/** Instants between two yields. */
const SLICE = 4;
/** Low places between the samples that are looked for, the lowest first, and looks at each. */
const MOST_LOWS = 12;
const LOOKS = 14;
/** 2 minus the golden ratio. */
const GOLDEN = (3 - Math.sqrt(5)) / 2;

/**
 * Looks at the instants `times` and, where the distance is lowest, between them too. Exact at each of its instants; an
 * approach that begins and ends between two of them is not seen, so the instants of known ones have to be among `times`.
 *
 * @param times Ascending [s], at least one.
 * @returns `undefined` without pairs.
 */
export function* distanceCurve(search: Search, times: Float64Array): Task<DistanceCurve | undefined> {
  if (search.look.pairs.count === 0) return undefined;
  const seen: Nearest[] = [];
  let guess = 0;
  for (const t of times) {
    const nearest = nearestAt(search, t, t < times[times.length - 1] ? "right" : "left", guess);
    guess = nearest.pair;
    seen.push(nearest);
    if (seen.length % SLICE === 0) yield;
  }
  const lows = [...seen.keys()].filter((i) => isLow(seen, i)).sort((a, b) => seen[a].distance - seen[b].distance);
  const found: Nearest[] = [];
  for (const i of lows.slice(0, MOST_LOWS)) {
    found.push(lowestAround(search, seen[i - 1].t, seen[i + 1].t, seen[i]));
    yield;
  }
  const all = [...seen, ...found].sort((a, b) => a.t - b.t);
  return {
    t: Float64Array.from(all, ({ t }) => t),
    distance: Float64Array.from(all, ({ distance }) => distance),
    pair: Int32Array.from(all, ({ pair }) => pair),
  };
}

interface Nearest {
  readonly t: number;
  readonly distance: number;
  readonly pair: number;
}

/** @param guess A pair that is likely the nearest: the others are then known not to be at little cost. */
function nearestAt(search: Search, t: number, side: "left" | "right", guess: number): Nearest {
  const { space, pairs, room } = search.look;
  const placed = placeAt(search, t, side, 0);
  let pair = guess;
  let distance = measurePair(space, pairs, guess, placed, room);
  for (let idx = 0; idx < pairs.count; idx++) {
    if (idx === guess || distance <= roughGap(space, pairs, idx, placed)) continue;
    const other = measurePair(space, pairs, idx, placed, room, distance);
    if (room.gap.bound || distance <= other) continue;
    distance = other;
    pair = idx;
  }
  return { t, distance, pair };
}

const isLow = (seen: readonly Nearest[], i: number): boolean =>
  0 < i &&
  i + 1 < seen.length &&
  seen[i].distance <= seen[i - 1].distance &&
  seen[i].distance <= seen[i + 1].distance &&
  (seen[i].distance < seen[i - 1].distance || seen[i].distance < seen[i + 1].distance);

/** Golden sections of the span around a low sample. */
function lowestAround(search: Search, from: number, to: number, known: Nearest): Nearest {
  let [low, high] = [from, to];
  let best = known;
  let a = nearestAt(search, low + GOLDEN * (high - low), "right", known.pair);
  let b = nearestAt(search, high - GOLDEN * (high - low), "right", known.pair);
  for (let look = 0; look < LOOKS; look++) {
    const isLeft = a.distance < b.distance;
    const nearer = isLeft ? a : b;
    if (nearer.distance < best.distance) best = nearer;
    if (isLeft) {
      high = b.t;
      b = a;
      a = nearestAt(search, low + GOLDEN * (high - low), "right", a.pair);
    } else {
      low = a.t;
      a = b;
      b = nearestAt(search, high - GOLDEN * (high - low), "right", b.pair);
    }
  }
  return best;
}

import type { Task } from "../base/task.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { isKept, limitShares, neediest, type LimitShare } from "./retime-shares.ts";
import { rampNeeds, rampRooms } from "./retime-ramps.ts";
import { durationOf, timingOf, withTiming, type Timing } from "./retime-timing.ts";
import { holds, keptBy, needsByKey, planAt, type Trials } from "./retime-trial.ts";
import { fitWhole, type NoFit } from "./retime-whole.ts";
import type { Trajectory } from "./trajectory.ts";

/** A timing of which no way can be cut by 1 % (or by one step, where that is more) without breaking a limit. */
export interface SegmentsFit {
  readonly status: "fitted";
  readonly move: ResolvedMove;
  readonly trajectory: Trajectory;
  readonly shares: readonly LimitShare[];
  /** Keys whose way keeps its time: no limit asks for any on it. */
  readonly untouched: readonly number[];
  /** How often the move was planned. */
  readonly plans: number;
}

/** What must not be possible in the end: a way shorter by this share. */
export const CUT = 0.01;
/** A way that can be cut is cut to within this share of what it can be. */
const SEARCHED_TO = 0.004;
/** Rounds in which all ways change at once: they bring the start near, more of them gain little. */
const ROUNDS = 10;
/** Share of the way, as a power, that such a round goes towards what each needs by itself: neighbours take part of it back. */
const RELAXED = 0.7;
/** Ways are not made shorter than this [s]: keys stand apart. */
const SHORTEST = 1e-3;
/** Rounding up forgives so much of a step, or a way that is at its bound exactly would get one more. */
const STEP_SLACK = 1e-4;
/** Far more than any move has needed. */
const MOST_ROUNDS_UP = 30;
const MOST_CUTS_A_WAY = 60;

/** Ways by key; those of `free` keys are searched. */
interface Search {
  readonly trials: Trials;
  readonly free: readonly number[];
  readonly holds: readonly number[];
  readonly step: number;
}

/**
 * The fastest timing that can be found way by way: from the bound of the whole move, first all ways together towards what
 * each needs by itself, then one after another cut as far as the limits allow, every trial by planning the whole move
 * again, as a way changes its neighbours, until none of them can be cut. Holds stay.
 *
 * @param step  Ways are made whole numbers of this [s]; 0 for any.
 * @param first Ways to begin with instead, by key [s].
 */
export function* fitSegments(move: ResolvedMove, step: number, first?: readonly number[]): Task<SegmentsFit | NoFit> {
  const whole = yield* fitWhole(move);
  if (whole.status !== "fitted") return whole;
  const old = timingOf(move);
  const bound = timingOf(whole.move);
  const needs = yield* needsByKey(whole.trajectory, bound);
  let free: readonly number[] = needs.flatMap((need, i) => (1e-9 < need ? [i] : []));
  const trials: Trials = { move, kept: keptBy(whole.trajectory, rampRooms(move)), suspects: new Map(), plans: 0 };
  for (;;) {
    const search: Search = { trials, free, holds: old.holds, step };
    const start = old.ways.map((way, i) => (free.includes(i) ? (first ?? bound.ways)[i] : way));
    const bounded = yield* bringWithin(search, start);
    if (!bounded) return { status: "not-by-time", at: neediest(whole.shares)! };
    const ways = yield* cutWays(search, first ? bounded : yield* approach(search, bounded));
    const bindings = yield* boundKeys(search, ways);
    if (bindings.length === free.length) return yield* finish(search, ways);
    // A way that no limit stretches would vanish: it keeps its time, and the others are searched anew.
    free = bindings;
  }
}

function* finish(search: Search, ways: readonly number[]): Task<SegmentsFit> {
  const timing = timingWith(search, ways);
  const trajectory = yield* planAt(search.trials, timing);
  return {
    status: "fitted",
    move: withTiming(search.trials.move, timing),
    trajectory,
    shares: yield* limitShares(trajectory),
    untouched: ways.flatMap((_, i) => (i === 0 || search.free.includes(i) ? [] : [i])),
    plans: search.trials.plans,
  };
}

/** Those of the free keys whose way some limit keeps from being as short as can be. */
function* boundKeys(search: Search, ways: readonly number[]): Task<readonly number[]> {
  const bindings: number[] = [];
  for (const key of search.free) {
    const floor = Math.max(SHORTEST, search.step) * (1 + CUT);
    const vanished = ways.map((way, i) => (i === key ? SHORTEST : way));
    if (floor < ways[key] || !(yield* holds(search.trials, timingWith(search, vanished), key))) bindings.push(key);
  }
  return bindings;
}

const timingWith = (search: Search, ways: readonly number[]): Timing => ({ ways, holds: search.holds });

/** Free ways changed, each rounded up to its step. */
function changed(search: Search, ways: readonly number[], by: (way: number, key: number) => number): number[] {
  return ways.map((way, i) => (search.free.includes(i) ? stepUp(search, by(way, i)) : way));
}

function stepUp({ step }: Search, way: number): number {
  const least = Math.max(way, SHORTEST);
  return 0 < step ? Math.ceil(least / step - STEP_SLACK) * step : least;
}

/** Stretches all free ways together until every limit holds. */
function* bringWithin(search: Search, start: readonly number[]): Task<number[] | undefined> {
  let ways = changed(search, start, (way) => way);
  for (let round = 0; round < MOST_ROUNDS_UP; round++) {
    const trajectory = yield* planAt(search.trials, timingWith(search, ways));
    const shares = yield* limitShares(trajectory);
    const ramps = Math.max(...rampNeeds(trajectory.move, search.trials.kept.rooms));
    const need = Math.max(neediest(shares)?.need ?? 0, ramps);
    if (ramps <= 1 && shares.every(isKept)) return ways;
    if (!(need < Infinity)) return undefined;
    // Rounding up to steps may take from one way what it gives to another.
    const more = Math.max(1, need) * (1 + 1e-9) * (round < 2 ? 1 : 1 + 1e-3 * round);
    ways = changed(search, ways, (way) => way * more);
  }
  return undefined;
}

/** All ways at once towards what each needs by itself; the shortest timing within the limits that comes by. */
function* approach(search: Search, start: readonly number[]): Task<readonly number[]> {
  let best = start;
  let ways = start;
  for (let round = 0; round < ROUNDS; round++) {
    const timing = timingWith(search, ways);
    const needs = yield* needsByKey(yield* planAt(search.trials, timing), timing, search.trials.kept.rooms);
    const bounded = yield* bringWithin(
      search,
      changed(search, ways, (way, i) => way * Math.min(4, Math.max(0.25, needs[i])) ** RELAXED),
    );
    if (!bounded) return best;
    ways = bounded;
    const isShorter = total(search, ways) < total(search, best);
    if (isShorter && (yield* holds(search.trials, timingWith(search, ways), 0))) best = ways;
  }
  return best;
}

const total = (search: Search, ways: readonly number[]): number => durationOf(timingWith(search, ways));

/** Cuts one way after another until none of them all can be cut. */
function* cutWays(search: Search, start: readonly number[]): Task<readonly number[]> {
  const { free } = search;
  let ways = start;
  let idle = 0;
  for (let turn = 0; idle < free.length && turn < MOST_CUTS_A_WAY * free.length; turn++) {
    const key = free[turn % free.length];
    const shorter = yield* cutWay(search, ways, key);
    idle = shorter === undefined ? idle + 1 : 0;
    ways = shorter ?? ways;
  }
  return ways;
}

/** The ways with that of one key cut as far as it goes, to `SEARCHED_TO`; `undefined` where it can't be cut at all. */
function* cutWay(search: Search, ways: readonly number[], key: number): Task<readonly number[] | undefined> {
  const withWay = (way: number): readonly number[] => ways.map((old, i) => (i === key ? way : old));
  const lengthen = (way: number): number => stepUp(search, way);
  const now = ways[key];
  const first = cutOnce(search, now);
  if (first === undefined || !(yield* holds(search.trials, timingWith(search, withWay(first)), key))) return undefined;
  let possible = first;
  let impossible = 0;
  let stride = 2 * CUT;
  while (SEARCHED_TO * possible < possible - impossible) {
    const next = lengthen(Math.max(possible * (1 - stride), (possible + impossible) / 2));
    if (possible <= next || next <= impossible) break;
    if (yield* holds(search.trials, timingWith(search, withWay(next)), key)) {
      possible = next;
      stride = Math.min(0.5, 2 * stride);
    } else impossible = next;
  }
  return withWay(possible);
}

/** The way after the least cut that counts: 1 %, or one step where that is more. `undefined` where it is the shortest. */
function cutOnce(search: Search, way: number): number | undefined {
  const { step } = search;
  const cut =
    0 < step ? Math.min(Math.floor(((1 - CUT) * way) / step + STEP_SLACK), Math.round(way / step) - 1) * step : 0;
  const next = 0 < step ? cut : way * (1 - CUT);
  return SHORTEST <= next && next < way ? next : undefined;
}

import { clockFromPlayed, playedAt, writeWritten, writtenAt, type Clock, type Pace } from "./clock.ts";
import { clockedCurve } from "./clocked-curve.ts";
import { keyedCurve, type CurveEnds, type Knot, type Stop } from "./keyed-curve.ts";
import type { Piecewise } from "./piecewise.ts";
import type { KeptWindows } from "./kept-windows.ts";
import { recallCurve, windowsOf, type Recall } from "./plan-record.ts";
import type { ResolvedKey } from "./resolved-move.ts";
import { ROOM } from "./series.ts";

/** What keys say of time for every channel: where all rests, and how fast written time is played. */
export interface KeyTiming {
  /** In played time [s], ascending. */
  readonly stops: readonly Stop[];
  /** Absent where no key states a speed. */
  readonly clock?: Clock;
  /** Curves that the plan before laid, and those laid by now; absent: none is kept. */
  readonly recall?: Recall;
}

export function keyTimingOf(keys: readonly ResolvedKey[]): KeyTiming {
  const clock = clockFromPlayed(keys.flatMap(pacesOf));
  const stops = keys.filter(isRest).map((key) => ({ from: key.time, to: leavesAt(key) }));
  return clock ? { stops, clock } : { stops };
}

/** The speed that a key states, at both ends of its hold. */
function pacesOf(key: ResolvedKey): Pace[] {
  if (!key.speed) return [];
  const { share } = key.speed;
  return [key.time, leavesAt(key)].map((time) => ({ time, share }));
}

/** When the camera leaves a key: after its hold [s]. */
export function leavesAt(key: Pick<ResolvedKey, "time" | "hold">): number {
  return key.time + Math.max(0, key.hold ?? 0);
}

/** True for a key at which everything comes to rest. */
export function isRest(key: Pick<ResolvedKey, "stop" | "hold">): boolean {
  return key.stop || 0 < (key.hold ?? 0);
}

/** What a key says of a channel of which it gives the value. */
export function knotAt(key: ResolvedKey, value: number): Knot {
  const knot = { time: key.time, value, rest: isRest(key) };
  return key.ease ? { ...knot, ease: key.ease } : knot;
}

/** A value, speed and acceleration at an instant. */
export interface Rates {
  readonly speed: number;
  readonly accel: number;
}

/**
 * The curve of a channel over played time: laid through its knots in written time, then played. All times and rates that
 * are given are of played time.
 */
export function layKnots(knots: readonly Knot[], timing: KeyTiming, ends: CurveEnds = {}): Piecewise {
  const { recall } = timing;
  if (!recall) return layAnew(knots, timing, ends);
  const curve = recallCurve(recall, knots, ends) ?? layAnew(knots, timing, ends, windowsOf(recall));
  recall.record.curves.push({ knots, ends, curve });
  return curve;
}

function layAnew(
  knots: readonly Knot[],
  { stops, clock }: KeyTiming,
  ends: CurveEnds,
  windows?: KeptWindows,
): Piecewise {
  if (!clock || knots.length === 0) return keyedCurve(knots, stops, ends, windows);
  const written = knots.map((knot) => ({ ...knot, time: writtenAt(clock, knot.time) }));
  const held = stops.map(({ from, to }) => ({ from: writtenAt(clock, from), to: writtenAt(clock, to) }));
  const rates = {
    ...(ends.start && { start: writtenRates(clock, knots[0].time, ends.start) }),
    ...(ends.end && { end: writtenRates(clock, knots[knots.length - 1].time, ends.end) }),
  };
  const curve = keyedCurve(written, held, rates, windows);
  return clockedCurve(curve, clock);
}

/** Rates in written time from those in played time at `t`: f' = f_u u', f'' = f_uu u'² + f_u u''. */
export function writtenRates(clock: Clock | undefined, t: number, { speed, accel }: Rates): Rates {
  if (!clock) return { speed, accel };
  const u = new Float64Array(ROOM);
  writeWritten(clock, t, 2, u);
  const rate = speed / u[1];
  return { speed: rate, accel: (accel - rate * 2 * u[2]) / u[1] ** 2 };
}

/** The played time at which `share` of the written time from `from` to `to` is done, holds between them left out [s]. */
export function shareOfWay({ stops, clock }: KeyTiming, from: number, to: number, share: number): number {
  if (share <= 0 || !(from < to)) return from;
  if (1 <= share) return to;
  const held = stops
    .filter((stop) => from <= stop.from && stop.to <= to && stop.from < stop.to)
    .map((stop) => ({ from: writtenAt(clock, stop.from), to: writtenAt(clock, stop.to) }));
  const [start, end] = [writtenAt(clock, from), writtenAt(clock, to)];
  let left = share * (end - start - held.reduce((sum, stop) => sum + (stop.to - stop.from), 0));
  let at = start;
  for (const stop of held) {
    if (left <= stop.from - at) break;
    left -= stop.from - at;
    at = stop.to;
  }
  return playedAt(clock, at + left);
}

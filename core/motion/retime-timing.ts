import type { ResolvedEase, ResolvedKey, ResolvedMove } from "./resolved-move.ts";

/** How long a move takes from key to key: all that retiming changes. Played times [s], by key. */
export interface Timing {
  /** On the way to each key from the end of the key before; 0 for the first. */
  readonly ways: readonly number[];
  /** At each key. */
  readonly holds: readonly number[];
}

export function timingOf({ keys }: Pick<ResolvedMove, "keys">): Timing {
  const holds = keys.map((key) => key.hold ?? 0);
  const ways = keys.map((key, i) => (i === 0 ? 0 : key.time - keys[i - 1].time - holds[i - 1]));
  return { ways, holds };
}

/** When each key is reached [s], the first at 0. */
export function keyTimesOf({ ways, holds }: Timing): number[] {
  const times: number[] = [];
  for (let i = 0; i < ways.length; i++) times.push(i === 0 ? 0 : times[i - 1] + holds[i - 1] + ways[i]);
  return times;
}

/** From the first key to the end of the last [s]. */
export function durationOf(timing: Timing): number {
  return timing.ways.reduce((sum, way) => sum + way, 0) + timing.holds.reduce((sum, hold) => sum + hold, 0);
}

/**
 * The same move at other played times; shares of speed that keys state stay theirs. `written` times of keys are left out: they belong to the text, which is written anew.
 * Ramps and paths of targets stay.
 */
export function withTiming(move: ResolvedMove, timing: Timing): ResolvedMove {
  const times = keyTimesOf(timing);
  const keys = move.keys.map((key, i): ResolvedKey => {
    const { written: _written, hold: _hold, ...rest } = key;
    const hold = timing.holds[i];
    return { ...rest, time: times[i], ...(0 < hold ? { hold } : {}) };
  });
  return { ...move, keys };
}

/** Every way, hold and ramp times `factor`. Paths of targets stay: they are the set's. */
export function scaledMove(move: ResolvedMove, factor: number): ResolvedMove {
  const { ways, holds } = timingOf(move);
  const scaled = { ways: ways.map((way) => way * factor), holds: holds.map((hold) => hold * factor) };
  const timed = withTiming(move, scaled);
  return { ...timed, keys: timed.keys.map((key) => withRamps(key, factor)) };
}

function withRamps(key: ResolvedKey, factor: number): ResolvedKey {
  const ease = key.ease && scaledEase(key.ease, factor);
  const change = key.switch;
  const shaped = change?.ease ? { ...change, ease: scaledEase(change.ease, factor) } : change;
  return { ...key, ...(ease ? { ease } : {}), ...(shaped ? { switch: shaped } : {}) };
}

const scaledEase = (ease: ResolvedEase, factor: number): ResolvedEase =>
  ease.kind === "minimum-jerk" || ease.ramp === undefined ? ease : { ...ease, ramp: ease.ramp * factor };

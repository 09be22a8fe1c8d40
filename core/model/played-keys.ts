import { clockFromWritten, playedAt, type Clock } from "../motion/clock.ts";
import type { ResolvedEase, ResolvedKey } from "../motion/resolved-move.ts";

/** What a key gives whenever it is. Ramps are written [s]. */
export type TimelessKey = Omit<ResolvedKey, "time" | "written" | "hold" | "stop">;

/** A key with written times [s]. */
export interface WrittenKey {
  readonly key: TimelessKey;
  readonly written: number;
  /** 0 for a key that is not held. */
  readonly hold: number;
  readonly stop: boolean;
  /** What this key was played as before, in the same context: given again where its times are the same. */
  readonly earlier?: ResolvedKey;
}

/**
 * The keys in played time: the move's speed and the speeds of keys taken into account.
 *
 * @param speed Share of written speed of the whole move.
 */
export function playedKeys(keys: readonly WrittenKey[], speed: number): ResolvedKey[] {
  // Ramps count time before the speeds of keys, so the clock of those runs in the move's own time.
  const own = (time: number): number => time / speed;
  const clock = clockOf(keys, speed);
  return keys.map((key) => playedKey(key, own, clock));
}

/** When a written time is played, both in s. */
export function playedTimes(keys: readonly WrittenKey[], speed: number): (written: number) => number {
  const clock = clockOf(keys, speed);
  return (written) => playedAt(clock, written / speed);
}

function clockOf(keys: readonly WrittenKey[], speed: number): Clock | undefined {
  return clockFromWritten(
    keys.flatMap(({ key, written, hold }) => {
      if (!key.speed) return [];
      const { share } = key.speed;
      return [written, written + hold].map((time) => ({ time: time / speed, share }));
    }),
  );
}

function playedKey(
  { key, written, hold, stop, earlier }: WrittenKey,
  own: (time: number) => number,
  clock: Clock | undefined,
): ResolvedKey {
  const time = playedAt(clock, own(written));
  const times = {
    time,
    ...(clock && { written }),
    ...(0 < hold && { hold: clock ? playedAt(clock, own(written + hold)) - time : own(hold) }),
    stop,
  };
  if (earlier && isAt(earlier, times)) return earlier;
  const { ease, switch: change, ...rest } = key;
  return {
    ...rest,
    ...times,
    ...(ease && { ease: ownEase(ease, own) }),
    ...(change && { switch: change.ease ? { ...change, ease: ownEase(change.ease, own) } : change }),
  };
}

type Times = Pick<ResolvedKey, "time" | "written" | "hold" | "stop">;

const isAt = (key: Times, times: Times): boolean =>
  key.time === times.time && key.written === times.written && key.hold === times.hold && key.stop === times.stop;

function ownEase(ease: ResolvedEase, own: (time: number) => number): ResolvedEase {
  if (ease.kind === "minimum-jerk" || ease.ramp === undefined) return ease;
  return { ...ease, ramp: own(ease.ramp) };
}

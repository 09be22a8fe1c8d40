import { clockFromWritten, playedAt, type Clock } from "../motion/clock.ts";
import type { ResolvedEase, ResolvedKey } from "../motion/resolved-move.ts";

/** A key whose times, hold and ramps are written [s]. */
export type WrittenKey = Omit<ResolvedKey, "time" | "written"> & { readonly written: number };

/**
 * The keys in played time: the move's speed and the speeds of keys taken into account.
 *
 * @param speed Share of written speed of the whole move.
 */
export function playedKeys(keys: readonly WrittenKey[], speed: number): ResolvedKey[] {
  // Ramps count time before the speeds of keys, so the clock of those runs in the move's own time.
  const own = (time: number): number => time / speed;
  const clock = clockFromWritten(
    keys.flatMap((key) => {
      if (!key.speed) return [];
      const { share } = key.speed;
      return [key.written, key.written + (key.hold ?? 0)].map((time) => ({ time: own(time), share }));
    }),
  );
  return keys.map((key) => playedKey(key, own, clock));
}

function playedKey(key: WrittenKey, own: (time: number) => number, clock: Clock | undefined): ResolvedKey {
  const { written, hold, ease, switch: change, ...rest } = key;
  const time = playedAt(clock, own(written));
  return {
    ...rest,
    time,
    ...(clock && { written }),
    ...(hold !== undefined && { hold: clock ? playedAt(clock, own(written + hold)) - time : own(hold) }),
    ...(ease && { ease: ownEase(ease, own) }),
    ...(change && { switch: change.ease ? { ...change, ease: ownEase(change.ease, own) } : change }),
  };
}

function ownEase(ease: ResolvedEase, own: (time: number) => number): ResolvedEase {
  if (ease.kind === "minimum-jerk" || ease.ramp === undefined) return ease;
  return { ...ease, ramp: own(ease.ramp) };
}

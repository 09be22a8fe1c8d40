import { writtenAt } from "../../motion/clock.ts";
import { keyTimingOf, leavesAt } from "../../motion/key-timing.ts";
import type { ResolvedEase, ResolvedMove } from "../../motion/resolved-move.ts";

/** When a key is reached and left in written time [s], before `speed` of the move and of keys. */
export interface WrittenTime {
  readonly at: number;
  readonly leaves: number;
}

export function writtenTimesOf({ keys, speed }: ResolvedMove): WrittenTime[] {
  const { clock } = keyTimingOf(keys);
  return keys.map((key) => ({
    at: writtenAt(clock, key.time) * speed,
    leaves: writtenAt(clock, leavesAt(key)) * speed,
  }));
}

/** Ramps of a key in written time [s], where it has them. */
export interface WrittenRamps {
  readonly ramp?: number;
  readonly switchRamp?: number;
}

export function writtenRampsOf({ keys, speed }: ResolvedMove): WrittenRamps[] {
  return keys.map((key) => ({
    ramp: written(key.ease, speed),
    switchRamp: written(key.switch?.ease, speed),
  }));
}

function written(ease: ResolvedEase | undefined, speed: number): number | undefined {
  // Ramps count time before the speeds of keys.
  return ease && ease.kind !== "minimum-jerk" && ease.ramp !== undefined ? ease.ramp * speed : undefined;
}

import { writtenAt } from "../motion/clock.ts";
import { keyTimingOf, leavesAt } from "../motion/key-timing.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";

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

/** The ramp of each key's ease in written time [s], where it has one. */
export function rampsOf({ keys, speed }: ResolvedMove): (number | undefined)[] {
  return keys.map(({ ease }) => {
    const ramp = ease && ease.kind !== "minimum-jerk" ? ease.ramp : undefined;
    return ramp === undefined ? undefined : ramp * speed;
  });
}

import { leavesAt } from "../../motion/key-timing.ts";
import type { Trajectory } from "../../motion/trajectory.ts";

/**
 * True for a stretch of time [s] with a key that puts the pupil on the target itself: `out-of-reach` tells that, and what
 * the picture shows there says nothing.
 */
export function isWithoutView(
  { keys, move }: Trajectory,
  { from, to }: { readonly from: number; readonly to: number },
): boolean {
  return keys.some(({ onTarget }, i) => {
    return onTarget !== undefined && move.keys[i].time <= to && from <= leavesAt(move.keys[i]);
  });
}

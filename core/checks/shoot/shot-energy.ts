import type { Task } from "../../base/task.ts";
import { motionEnergy, motionTimes, type MotionTimes } from "../../load/energy.ts";
import type { ResolvedShot } from "../../model/resolved-shoot.ts";
import { wayBack } from "../../motion/way-back.ts";
import type { ResolvedRig } from "../../rig/resolved-rig.ts";
import { takesOf } from "./shot-takes.ts";
import type { ShootMove } from "./shoot-check.ts";

/** A part of a shot that is not broken off for a change of batteries. */
export interface Stretch {
  /** `the set-up`, or the take. */
  readonly label: string;
  /** [J] */
  readonly energy: number;
  /** [s] */
  readonly time: number;
}

type Moved = Pick<ShootMove, "move" | "trajectory" | "seen">;

/**
 * What a shot takes from the battery: the set-up at rest, then each take with the way back before the next one and the wait.
 * All passes move as the move itself does.
 */
export function* shotEnergy(
  shot: ResolvedShot,
  one: Moved,
  power: NonNullable<ResolvedRig["power"]>,
): Task<readonly Stretch[]> {
  const { axes } = one.move;
  const { take, back } = yield* timesOf(one);
  const taken = motionEnergy(power, axes, take);
  const returned = back ? motionEnergy(power, axes, back) : 0;
  const takes = takesOf(shot, one.move);
  const stretches = takes.map((label, n): Stretch => {
    const goesBack = n + 1 < takes.length;
    const busy = take.duration + (goesBack ? (back?.duration ?? 0) : 0);
    const time = Math.max(busy, shot.passTime ?? 0);
    return { label, time, energy: taken + (goesBack ? returned : 0) + power.idle * (time - busy) };
  });
  const setup = { label: "the set-up", time: shot.setupTime, energy: power.idle * shot.setupTime };
  return 0 < shot.setupTime ? [setup, ...stretches] : stretches;
}

interface TakeTimes {
  readonly take: MotionTimes;
  readonly back?: MotionTimes;
}

/** How long the axes move in a take and on the way back; looked at once for each trajectory. */
function* timesOf({ trajectory, seen }: Moved): Task<TakeTimes> {
  const kept = seen.table<TakeTimes>("energy");
  const known = kept.get(trajectory);
  if (known) return known;
  const take = yield* motionTimes(trajectory);
  const way = yield* wayBack(trajectory);
  const times: TakeTimes = way ? { take, back: yield* motionTimes(way) } : { take };
  kept.set(trajectory, times);
  return times;
}

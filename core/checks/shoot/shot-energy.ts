import type { Task } from "../../base/task.ts";
import { motionEnergy, motionTimes, type MotionTimes } from "../../load/energy.ts";
import type { ResolvedShot } from "../../model/resolved-shoot.ts";
import { wayBack } from "../../motion/way-back.ts";
import type { ResolvedRig } from "../../rig/resolved-rig.ts";
import { takesOf, type Takes } from "./shot-takes.ts";
import type { ShootMove } from "./shoot-check.ts";

/** Equal parts of a shot, none of which is broken off for a change of batteries: the set-up, or takes of one pass. */
export interface Stretch extends Takes {
  /** Of each part [J]. */
  readonly energy: number;
  /** Of each part [s]. */
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
  const part = (takes: Takes, goesBack: boolean): Stretch => {
    const busy = take.duration + (goesBack ? (back?.duration ?? 0) : 0);
    const time = Math.max(busy, shot.passTime ?? 0);
    return { ...takes, time, energy: taken + (goesBack ? returned : 0) + power.idle * (time - busy) };
  };
  const all = takesOf(shot, one.move);
  const stretches = all.flatMap((takes, idx): Stretch[] => {
    if (idx + 1 < all.length) return [part(takes, true)];
    // After the very last take the rig need not come back.
    const last = { count: 1, label: () => takes.label(takes.count - 1) };
    const others = { ...takes, count: takes.count - 1 };
    return [...(0 < others.count ? [part(others, true)] : []), part(last, false)];
  });
  const setup = { count: 1, label: () => "the set-up", time: shot.setupTime, energy: power.idle * shot.setupTime };
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

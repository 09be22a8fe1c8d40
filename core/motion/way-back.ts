import type { Task } from "../base/task.ts";
import { directMove } from "./direct-way.ts";
import { planTrajectory } from "./plan.ts";
import type { PlanRecord } from "./plan-record.ts";
import { reversedWay } from "./reversed-way.ts";
import type { Trajectory } from "./trajectory.ts";

/** The share of the take's speed at which the rig goes back the way it came where nothing else is said. */
export const RETURN_SHARE = 0.5;

/** [m], [rad] An axis that ends as near as this to where it began is there. */
const SAME_VALUE = 1e-6;

/**
 * The way from the end of a take back to its first values: the take reversed at half speed, or what the move's `return`
 * says. Time counts from where the last key is left.
 *
 * @param take    The motion of a move, or of one of its passes.
 * @param earlier The record of the way back before an edit.
 * @returns `undefined` where there is no way to go: `return: none`, a move of a single instant, and one that ends as it
 *          begins, unless `return` asks for a way all the same.
 */
export function* wayBack(take: Trajectory, earlier?: PlanRecord): Task<Trajectory | undefined> {
  const { wayBack: asked } = take.move;
  if (asked?.kind === "none" || !(0 < take.duration)) return undefined;
  if (asked?.kind === "direct") {
    if (asked.via.length === 0 && endsAsBegun(take)) return undefined;
    return yield* planTrajectory(directMove(take, asked), earlier);
  }
  if (!asked && endsAsBegun(take)) return undefined;
  const way = reversedWay(take, asked?.share ?? RETURN_SHARE);
  return 0 < way.duration ? way : undefined;
}

/** True where every axis, turntables too, ends where it began. */
export function endsAsBegun(take: Trajectory): boolean {
  const [first, last] = [take.createInstant(), take.createInstant()];
  take.poseAt(0, first);
  take.poseAt(take.duration, last);
  return first.value.every((value, axis) => Math.abs(value - last.value[axis]) <= SAME_VALUE);
}

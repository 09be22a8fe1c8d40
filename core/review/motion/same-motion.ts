import type { Task } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { SameThings } from "../match-names.ts";
import { inputDifference } from "./input-difference.ts";
import { motionInputs } from "./motion-inputs.ts";
import { isSamePath } from "./same-path.ts";

/**
 * [m, rad, s] Where moves are built of other parts, their motions are one only if they agree to this: 100 times finer than
 * the least change that counts, coarser than what solving an aim leaves.
 */
export const ONE_PATH = 1e-8;

/**
 * [m, rad, s] How far motions made from the same data may lie apart. A path of solved axes is fitted to 1e-6, and rounding
 * may let it be fitted in other pieces; another branch of the aim is farther off than this.
 */
export const ONE_BRANCH = 1e-4;

/** Whether two motions are one: see `MotionVerdict`. */
export function* isSameMotion(before: Trajectory, after: Trajectory, same: SameThings): Task<boolean> {
  const shared = new Map(same.axes.map(([a, b]) => [b, a]));
  const known = new Set(same.axes.map(([a]) => a));
  const was = motionInputs(before.move, (axis) => (known.has(axis) ? axis : undefined));
  const is = motionInputs(after.move, (axis) => shared.get(axis));
  const values = inputDifference(was.values, is.values);
  if (values === "value" || inputDifference(was.beside, is.beside) !== "same") return false;
  const settings = inputDifference(was.settings, is.settings);
  if (values === "same" && settings === "same") return yield* isSamePath(before, after, same, ONE_BRANCH);
  return yield* isSamePath(before, after, same, ONE_PATH);
}

import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { SameThings } from "../match-names.ts";
import { inputDifference } from "../motion/input-difference.ts";

/** Names and places in texts, and what is reckoned from differences of values beside it, whose last digits are larger. */
const NO_MEANING = /^(?:.*[oO]rigins?|name|cameraName|lensName|slopes|nodes)$/;

/** Whether two moves of one motion have the same effects but for rounding: equal limits, errors, bodies, targets, pictures. */
export function hasSameEffects(before: ResolvedMove, after: ResolvedMove, same: SameThings): boolean {
  const { axes, targets, turntables } = same;
  const isPaired =
    axes.length === Math.max(before.axes.length, after.axes.length) &&
    targets.length === Math.max(before.targets.length, after.targets.length);
  // Of tables that both sides have in another order, bodies and targets that stand on them name others.
  const isInOrder = turntables.every(([a, b]) => a === b);
  if (!isPaired || !isInOrder) return false;
  const was = shownOf(before, axes.map(([a]) => a), targets.map(([a]) => a)); // prettier-ignore
  const is = shownOf(after, axes.map(([, b]) => b), targets.map(([, b]) => b)); // prettier-ignore
  return inputDifference(was, is, (name) => NO_MEANING.test(name)) === "same";
}

/** All that effects are made from beside the motion, in the order that both sides share. */
function shownOf(move: ResolvedMove, axes: readonly number[], targets: readonly number[]): unknown {
  const { rig, optics, floor, deliver, turntables } = move;
  return {
    axes: axes.map((axis) => {
      const { range, limits, repeat } = move.axes[axis];
      return { range, limits, repeat };
    }),
    targets: targets.map((target) => move.targets[target]),
    bodies: rig.bodies,
    standing: [move.obstacles, move.people].map((bodies) => inOrder(bodies, ({ name }) => name)),
    passes: inOrder(
      move.passes.map(({ times, targets: shifts }) => ({ times, shifts: targets.map((target) => shifts[target]) })),
      (pass) => JSON.stringify(pass),
    ),
    turntables: turntables.map(({ at, along }) => ({ at, along })),
    optics,
    floor,
    deliver,
  };
}

/** By a name or text of each, so that the order in which they are written does not count. */
function inOrder<T>(all: readonly T[], by: (one: T) => string): T[] {
  return [...all].sort((a, b) => (by(a) < by(b) ? -1 : 1));
}

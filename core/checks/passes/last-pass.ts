import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { againstFirst } from "../../repeat/pass-variances.ts";
import type { CheckContext } from "../check.ts";
import { passScan, type PassError } from "./pass-scan.ts";

/** How many passes of a move are taken in all; a move that names none is taken once. */
export const passCount = ({ passes }: Pick<ResolvedMove, "passes">): number =>
  passes.length === 0 ? 1 : passes.reduce((sum, { times }) => sum + times, 0);

/** Position in `move.passes` of the n-th pass that is taken, counted from 1. */
export function passAt({ passes }: Pick<ResolvedMove, "passes">, n: number): number {
  let taken = 0;
  for (let i = 0; i < passes.length; i++) {
    taken += passes[i].times;
    if (n <= taken) return i;
  }
  return passes.length - 1;
}

/**
 * How far the last pass of a move may be off the first, at what is aimed at, in the worst instant [captured px].
 *
 * @returns `undefined` for a move of one pass, one that aims at nothing, and a rig that states nothing of how it repeats.
 */
export function* lastPassError(context: CheckContext): Task<PassError | undefined> {
  const count = passCount(context.move);
  const scan = count < 2 ? undefined : yield* passScan(context);
  return scan?.worst(againstFirst(scan.axes, scan.ways, count));
}

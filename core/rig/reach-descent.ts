import type { BaseFrame, Chain } from "./chain.ts";
import { evaluateReach, type ReachEquations, type ReachGoal } from "./reach-equations.ts";
import { addStep } from "./reach-step.ts";
import type { Travel } from "./travel.ts";

/** Position error that counts as reached [m]. */
export const REACH_POSITION = 1e-9;
/** Angle error that counts as reached [rad]. */
export const REACH_ANGLE = 1e-10;
/** Longest step of one round, m or rad: the equations are trusted no farther. */
const LONGEST_STEP = 0.8;

/** Room for a descent; u unknowns. */
export interface DescentBuffer {
  /** Shape (u,). */
  readonly step: Float64Array;
  readonly before: Float64Array;
  readonly held: Uint8Array;
  readonly ones: Float64Array;
}

export function createDescentBuffer(unknowns: number): DescentBuffer {
  return {
    step: new Float64Array(unknowns),
    before: new Float64Array(unknowns),
    held: new Uint8Array(unknowns),
    ones: new Float64Array(unknowns).fill(1),
  };
}

/** What a descent works on: the goal's equations in chosen axes, kept inside their travel. */
export interface ReachProblem {
  readonly chain: Chain;
  base: BaseFrame;
  goal: ReachGoal;
  /** Joint indices of the unknowns, shape (u,). */
  readonly axes: Int32Array;
  readonly travel: Travel;
  readonly equations: ReachEquations;
  readonly buffer: DescentBuffer;
}

/** `reached`: within the tolerances; `minimum`: no way down from here; `cap`: rounds used up. */
export type DescentEnd = "reached" | "minimum" | "cap";

/**
 * Levenberg and Marquardt's method with the axes kept in their travel: an axis that a step would take across its end is
 * held there and the step found again for the others. Starts from `q`, which must be inside, and leaves the best pose in
 * `q` and `problem.equations`. Allocates nothing.
 *
 * @param angleWeight Metres that a radian counts for: large to hold the orientation while the position gives.
 * @param polish      Goes on for one round more after the tolerances are met, which leaves rounding only.
 */
export function descend(
  problem: ReachProblem,
  q: Float64Array,
  angleWeight: number,
  rounds: number,
  polish = true,
): DescentEnd {
  evaluateReach(problem.chain, problem.base, q, problem.goal, problem.equations);
  return descendFrom(problem, q, angleWeight, rounds, polish);
}

/** `descend` from a pose that `problem.equations` hold already. */
export function descendFrom(
  problem: ReachProblem,
  q: Float64Array,
  angleWeight: number,
  rounds: number,
  polish: boolean,
): DescentEnd {
  const { chain, base, goal, axes, equations, buffer } = problem;
  let cost = costOf(equations, angleWeight);
  let damping = 1e-3;
  let flat = 0;
  let reached = isReached(equations);
  if (reached && !polish) return "reached";
  for (let round = 0; round < rounds; round++) {
    const polished = reached;
    for (let k = 0; k < axes.length; k++) buffer.before[k] = q[axes[k]];
    let better = false;
    for (let attempt = 0; attempt < 10 && !better; attempt++) {
      boundedStep(problem, q, angleWeight, damping * Math.min(1, cost) + 1e-14);
      for (let k = 0; k < axes.length; k++) q[axes[k]] = buffer.before[k] + buffer.step[k];
      evaluateReach(chain, base, q, goal, equations);
      const next = costOf(equations, angleWeight);
      better = next < cost;
      if (better) {
        flat = next < 0.98 * cost ? 0 : flat + 1;
        cost = next;
        damping = Math.max(damping / 8, 1e-9);
      } else {
        for (let k = 0; k < axes.length; k++) q[axes[k]] = buffer.before[k];
        evaluateReach(chain, base, q, goal, equations);
        damping *= 12;
      }
    }
    reached = isReached(equations);
    if (polished || (reached && !(better && polish))) return "reached";
    if (!better || (!reached && 6 < flat)) return "minimum";
  }
  return reached ? "reached" : "cap";
}

export function isReached(equations: ReachEquations): boolean {
  return positionMiss(equations) <= REACH_POSITION && angleMiss(equations) <= REACH_ANGLE;
}

/** [m] */
export function positionMiss({ miss }: ReachEquations): number {
  return Math.sqrt(miss[0] * miss[0] + miss[1] * miss[1] + miss[2] * miss[2]);
}

/** [rad] */
export function angleMiss({ miss, rows }: ReachEquations): number {
  if (rows === 3) return 0;
  const last = rows === 6 ? miss[5] : 0;
  return Math.sqrt(miss[3] * miss[3] + miss[4] * miss[4] + last * last);
}

/**
 * The damped step of least squares over the axes that are free, those that would cross an end held at it. Leaves it in
 * `problem.buffer.step`.
 */
export function boundedStep(problem: ReachProblem, q: Float64Array, angleWeight: number, damping: number): void {
  const { axes, travel, equations, buffer } = problem;
  const { step, held, ones } = buffer;
  const count = axes.length;
  for (let k = 0; k < count; k++) held[k] = 0;
  for (let pass = 0; pass <= count; pass++) {
    // Axes held at an end have taken their part of the way already.
    for (let k = 0; k < count; k++) if (held[k] === 0) step[k] = 0;
    if (!addStep(equations.slope, equations.miss, axes, ones, held, step, angleWeight, damping)) return;
    let longest = 0;
    for (let k = 0; k < count; k++) if (held[k] === 0) longest = Math.max(longest, Math.abs(step[k]));
    if (LONGEST_STEP < longest) {
      for (let k = 0; k < count; k++) if (held[k] === 0) step[k] *= LONGEST_STEP / longest;
    }
    let crossed = false;
    for (let k = 0; k < count; k++) {
      if (held[k] === 1) continue;
      const axis = axes[k];
      const to = q[axis] + step[k];
      if (travel.low[axis] <= to && to <= travel.high[axis]) continue;
      step[k] = (to < travel.low[axis] ? travel.low[axis] : travel.high[axis]) - q[axis];
      held[k] = 1;
      crossed = true;
    }
    if (!crossed) return;
  }
}

function costOf({ miss, rows }: ReachEquations, angleWeight: number): number {
  let sum = miss[0] * miss[0] + miss[1] * miss[1] + miss[2] * miss[2];
  for (let r = 3; r < rows; r++) sum += angleWeight * angleWeight * miss[r] * miss[r];
  return sum;
}

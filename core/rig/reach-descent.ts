import { solvePositive } from "../base/linear.ts";
import type { BaseFrame, Chain } from "./chain.ts";
import { evaluateReach, type ReachEquations, type ReachGoal } from "./reach-equations.ts";
import type { Travel } from "./travel.ts";

/** Position error that counts as reached [m]. */
export const REACH_POSITION = 1e-9;
/** Angle error that counts as reached [rad]. */
export const REACH_ANGLE = 1e-10;
/** Longest step of one round, m or rad: the equations are trusted no farther. */
const LONGEST_STEP = 0.8;

/** Room for a descent; u unknowns. */
export interface DescentBuffer {
  readonly matrix: Float64Array;
  readonly right: Float64Array;
  /** Shape (u,). */
  readonly step: Float64Array;
  readonly before: Float64Array;
  readonly held: Uint8Array;
}

export function createDescentBuffer(unknowns: number): DescentBuffer {
  return {
    matrix: new Float64Array(36),
    right: new Float64Array(6),
    step: new Float64Array(unknowns),
    before: new Float64Array(unknowns),
    held: new Uint8Array(unknowns),
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
  const { chain, base, goal, axes, equations, buffer } = problem;
  evaluateReach(chain, base, q, goal, equations);
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
  const last = rows === 6 ? miss[5] : 0;
  return Math.sqrt(miss[3] * miss[3] + miss[4] * miss[4] + last * last);
}

/**
 * step = -J' (J J' + damping)⁻¹ miss over the axes that are free, those that would cross an end held at it.
 * J J' is as small as the number of equations, however many axes there are.
 */
export function boundedStep(problem: ReachProblem, q: Float64Array, angleWeight: number, damping: number): void {
  const { axes, travel, equations, buffer } = problem;
  const { miss, slope, rows } = equations;
  const { matrix, right, step, held } = buffer;
  const weight = angleWeight;
  held.fill(0);
  step.fill(0);
  for (let pass = 0; pass <= axes.length; pass++) {
    let largest = 0;
    for (let r = 0; r < rows; r++) {
      const wr = r < 3 ? 1 : weight;
      // Axes held at an end have taken their part of the way already.
      let sum = miss[r];
      for (let k = 0; k < axes.length; k++) if (held[k] === 1) sum += slope[6 * axes[k] + r] * step[k];
      right[r] = -sum * wr;
      for (let c = 0; c <= r; c++) {
        const wc = c < 3 ? 1 : weight;
        let dot = 0;
        for (let k = 0; k < axes.length; k++) {
          if (held[k] === 0) dot += slope[6 * axes[k] + r] * slope[6 * axes[k] + c];
        }
        matrix[r * rows + c] = dot * wr * wc;
      }
      largest = Math.max(largest, matrix[r * rows + r]);
    }
    if (largest === 0) return;
    for (let r = 0; r < rows; r++) matrix[r * rows + r] += damping * Math.max(1, largest);
    if (!solvePositive(matrix, right, rows)) return;
    let longest = 0;
    for (let k = 0; k < axes.length; k++) {
      if (held[k] === 1) continue;
      let sum = 0;
      for (let r = 0; r < rows; r++) sum += slope[6 * axes[k] + r] * right[r] * (r < 3 ? 1 : weight);
      step[k] = sum;
      longest = Math.max(longest, Math.abs(sum));
    }
    if (LONGEST_STEP < longest) {
      for (let k = 0; k < axes.length; k++) if (held[k] === 0) step[k] *= LONGEST_STEP / longest;
    }
    let crossed = false;
    for (let k = 0; k < axes.length; k++) {
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

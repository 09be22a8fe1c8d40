import { descend, isReached, type ReachProblem } from "./reach-descent.ts";
import { evaluateReach } from "./reach-equations.ts";
import { addStep } from "./reach-step.ts";

/** Share of an axis's travel at either end that is kept free where the rig has a choice. */
const MARGIN = 0.04;
/** Travel that an axis without ends is taken to have: a turn, or as many metres as a usual track. */
const OPEN_TRAVEL = { rotary: 2 * Math.PI, linear: 3 } as const;
const ROUNDS = 40;
const LONGEST_STEP = 0.3;

/** Travel of unknown k, the measure of how far a value is from a wished one. */
export function spanOf(problem: ReachProblem, k: number): number {
  const axis = problem.axes[k];
  const span = problem.travel.high[axis] - problem.travel.low[axis];
  if (Number.isFinite(span)) return Math.max(span, 1e-6);
  return problem.chain.rig.joints[axis].type === "linear" ? OPEN_TRAVEL.linear : OPEN_TRAVEL.rotary;
}

/** Mean square of the distances from the wished values, each in shares of its axis's travel. */
export function distanceFrom(problem: ReachProblem, q: Float64Array, wished: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < problem.axes.length; k++) {
    const share = (q[problem.axes[k]] - wished[problem.axes[k]]) / spanOf(problem, k);
    sum += share * share;
  }
  return sum / problem.axes.length;
}

/**
 * Where more axes than equations leave a choice, slides the solution `q` along itself to the one nearest to the wished
 * values, axes weighed by their travel and kept a little off its ends. Each round goes to the wished values as far as
 * the equations, taken as straight, allow: dx = d - W J' (J W J')⁻¹ (miss + J d), W the squared travels. A round that
 * spoils the solution ends it; `q` stays solved.
 */
export function slideNear(problem: ReachProblem, q: Float64Array, wished: Float64Array): void {
  const { chain, base, goal, axes, travel, equations } = problem;
  if (axes.length <= equations.rows) return;
  const goals = Float64Array.from(axes, (axis) => {
    const margin = MARGIN * (travel.high[axis] - travel.low[axis]);
    return Number.isFinite(margin)
      ? clamp(wished[axis], travel.low[axis] + margin, travel.high[axis] - margin)
      : wished[axis];
  });
  const weights = Float64Array.from(axes, (_, k) => spanOf(problem, k) ** 2);
  const trial = Float64Array.from(q);
  let best = gap(problem, q, goals);
  for (let round = 0; round < ROUNDS; round++) {
    evaluateReach(chain, base, trial, goal, equations);
    const moved = slideStep(problem, trial, goals, weights);
    if (moved < 1e-9) return;
    if (descend(problem, trial, 1, 12) !== "reached" || !isReached(equations)) return;
    const next = gap(problem, trial, goals);
    if (!(next < best)) return;
    const gain = best - next;
    best = next;
    q.set(trial);
    if (gain < 1e-12) return;
  }
}

/** Moves `q` by one round; returns the largest move. */
function slideStep(problem: ReachProblem, q: Float64Array, goals: Float64Array, weights: Float64Array): number {
  const { axes, travel, equations, buffer } = problem;
  const { step, held } = buffer;
  held.fill(0);
  for (let pass = 0; pass <= axes.length; pass++) {
    for (let k = 0; k < axes.length; k++) if (held[k] === 0) step[k] = goals[k] - q[axes[k]];
    if (!addStep(equations.slope, equations.miss, axes, weights, held, step, 1, 1e-10)) return 0;
    let crossed = false;
    for (let k = 0; k < axes.length; k++) {
      const to = q[axes[k]] + step[k];
      if (held[k] === 1 || (travel.low[axes[k]] <= to && to <= travel.high[axes[k]])) continue;
      step[k] = clamp(to, travel.low[axes[k]], travel.high[axes[k]]) - q[axes[k]];
      held[k] = 1;
      crossed = true;
    }
    if (!crossed) break;
  }
  let longest = 0;
  for (const value of step) longest = Math.max(longest, Math.abs(value));
  const share = Math.min(1, LONGEST_STEP / longest);
  if (0 < longest) for (let k = 0; k < axes.length; k++) q[axes[k]] += share * step[k];
  return longest;
}

function gap(problem: ReachProblem, q: Float64Array, goals: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < goals.length; k++) sum += ((q[problem.axes[k]] - goals[k]) / spanOf(problem, k)) ** 2;
  return sum;
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

import { turnWithin } from "../base/angle.ts";
import { LINEAR, ownFrame, type BaseFrame, type Chain } from "./chain.ts";
import {
  angleMiss,
  createDescentBuffer,
  descend,
  descendFrom,
  positionMiss,
  type ReachProblem,
} from "./reach-descent.ts";
import { createReachEquations, evaluateReach, prepareReach, rowsOf, type ReachGoal } from "./reach-equations.ts";
import { beginForm, findReachForm, formCandidates, type ReachForm } from "./reach-form.ts";
import { distanceFrom, slideNear, spanOf } from "./reach-near.ts";
import { travel } from "./travel.ts";

/** What is found once for a chain and its unknowns, and the room to solve in. Not to be used by two searches at a time. */
export interface ReachSolver {
  readonly problem: ReachProblem;
  /** Closed forms by the number of turns that an orientation asks for, looked for when first needed; null: there is none. */
  readonly forms: { 2?: ReachForm | null; 3?: ReachForm | null };
  readonly trial: Float64Array;
  /** The nearest solutions so far, shape (KEPT, n), and how far they are from the preferred values. */
  readonly kept: Float64Array;
  readonly keptDistance: Float64Array;
}

/** Solutions that are slid along themselves for the one nearest to the preferred values. */
const KEPT = 3;
/** A pose this near to a neighbour's is sought from there first [m, rad]. */
const BESIDE = { position: 0.4, angle: 0.6 } as const;
/** Root mean square of the distances from the preferred values, in shares of travel, that is near enough to look no further. */
const NEAR_ENOUGH = 0.15;
/** Values that the chosen axes are tried at, by how many there are: the more, the thinner they lie. */
const SPREAD = [1, 96, 256] as const;
/** The same where the chosen axes only start a search. */
const SPREAD_STARTS = 32;
/** As many of those are tried when the nearest solution is looked for. */
const SPREAD_NEAREST = 24;

const NO_GOAL: ReachGoal = { position: [0, 0, 0], pupil: 0, orientation: { kind: "turn", turn: [0, 0, 0, 1] } };

/** @param axes Joint indices of the axes to find, from `reachAxes`. */
export function createReachSolver(chain: Chain, axes: readonly number[]): ReachSolver {
  const limits = travel(chain);
  return {
    problem: {
      chain,
      base: ownFrame(),
      goal: NO_GOAL,
      axes: Int32Array.from(axes),
      travel: limits,
      equations: createReachEquations(chain),
      buffer: createDescentBuffer(axes.length),
    },
    forms: {},
    trial: new Float64Array(chain.count),
    kept: new Float64Array(KEPT * chain.count),
    keptDistance: new Float64Array(KEPT),
  };
}

/** Takes up a goal; before any of the searches. */
export function beginReach(solver: ReachSolver, base: BaseFrame, goal: ReachGoal): void {
  solver.problem.base = base;
  solver.problem.goal = goal;
  prepareReach(goal, solver.problem.equations);
}

/**
 * The short ways to a solution: from the preferred values when they are beside it, and by the chain's closed form with the
 * chosen axes spread over their travel. Allocates nothing where the goal is a full turn.
 *
 * @param preferred Shape (n,).
 * @param nearest   Looks at all solutions of the closed form for the one nearest to `preferred`; else takes the first.
 * @param q         Shape (n,): receives the solution.
 * @returns Whether there is one. If not it may still be in reach.
 */
export function reachDirectly(
  solver: ReachSolver,
  preferred: Float64Array,
  nearest: boolean,
  q: Float64Array,
): boolean {
  const { problem } = solver;
  putInside(problem, preferred, q);
  evaluateReach(problem.chain, problem.base, q, problem.goal, problem.equations);
  const beside = positionMiss(problem.equations) < BESIDE.position && angleMiss(problem.equations) < BESIDE.angle;
  if (beside && descendFrom(problem, q, 1, nearest ? 30 : 8, nearest) === "reached") {
    takeWholeTurns(problem, q, preferred);
    if (!nearest) return true;
    slideNear(problem, q, preferred);
    if (Math.sqrt(distanceFrom(problem, q, preferred)) < NEAR_ENOUGH) return true;
  }
  const form = formOf(solver);
  if (!form || !beginForm(form, problem.base, problem.goal, preferred)) return false;
  return nearest ? nearestOfForm(solver, form, preferred, q) : firstOfForm(solver, form, preferred, q);
}

/** The form that the goal in hand asks for; none for a place alone, which leaves the wrist to itself. */
export function formOf({ problem, forms }: ReachSolver): ReachForm | null {
  if (problem.goal.orientation.kind === "free") return null;
  const size = rowsOf(problem.goal.orientation) === 6 ? 3 : 2;
  const known = forms[size];
  if (known !== undefined) return known;
  const order = Array.from(problem.axes).sort((a, b) => a - b);
  return (forms[size] = findReachForm(problem.chain, problem.travel, order, size) ?? null);
}

function firstOfForm(solver: ReachSolver, form: ReachForm, preferred: Float64Array, q: Float64Array): boolean {
  const { problem, trial } = solver;
  const samples = samplesOf(form);
  for (let sample = 0; sample < samples; sample++) {
    putInside(problem, preferred, trial);
    spread(solver, form, preferred, sample, trial);
    if (formCandidates(form, problem.base, problem.goal, trial, false, 1) === 0) continue;
    // The first one solves it, but for rounding; only else are the others worked out.
    if (descendFromCandidate(solver, form, 0, q)) return true;
    const found = formCandidates(form, problem.base, problem.goal, trial, false);
    for (let k = 1; k < found; k++) if (descendFromCandidate(solver, form, k, q)) return true;
  }
  return false;
}

function descendFromCandidate({ problem }: ReachSolver, form: ReachForm, k: number, q: Float64Array): boolean {
  for (let i = 0; i < q.length; i++) q[i] = form.candidates[q.length * k + i];
  return descend(problem, q, 1, form.arm ? 12 : 40, false) === "reached";
}

function nearestOfForm(solver: ReachSolver, form: ReachForm, preferred: Float64Array, q: Float64Array): boolean {
  const { problem, trial, kept, keptDistance } = solver;
  const n = q.length;
  keptDistance.fill(Infinity);
  const most = samplesOf(form);
  for (let sample = 0; sample < most; sample++) {
    if (SPREAD_NEAREST <= sample && keptDistance[0] < Infinity) break;
    putInside(problem, preferred, trial);
    spread(solver, form, preferred, sample, trial);
    const found = formCandidates(form, problem.base, problem.goal, trial, false);
    for (let k = 0; k < found; k++) {
      for (let i = 0; i < n; i++) q[i] = form.candidates[n * k + i];
      if (descend(problem, q, 1, form.arm ? 12 : 40) !== "reached") continue;
      takeWholeTurns(problem, q, preferred);
      keep(solver, q, distanceFrom(problem, q, preferred));
    }
  }
  if (keptDistance[0] === Infinity) return false;
  let best = Infinity;
  for (let k = 0; k < KEPT && keptDistance[k] < Infinity; k++) {
    for (let i = 0; i < n; i++) trial[i] = kept[n * k + i];
    slideNear(problem, trial, preferred);
    const distance = distanceFrom(problem, trial, preferred);
    if (best <= distance) continue;
    best = distance;
    q.set(trial);
  }
  return true;
}

function samplesOf({ arm, chosen }: ReachForm): number {
  return arm ? SPREAD[Math.min(chosen.length, SPREAD.length - 1)] : 0 < chosen.length ? SPREAD_STARTS : 1;
}

/** Keeps a solution among the nearest ones, in order. */
function keep({ kept, keptDistance }: ReachSolver, q: Float64Array, distance: number): void {
  const n = q.length;
  let at = KEPT;
  while (0 < at && distance < keptDistance[at - 1]) at -= 1;
  if (at === KEPT) return;
  for (let k = KEPT - 1; at < k; k--) {
    keptDistance[k] = keptDistance[k - 1];
    kept.copyWithin(n * k, n * (k - 1), n * k);
  }
  keptDistance[at] = distance;
  kept.set(q, n * at);
}

/** Puts the chosen axes where sample number `sample` has them: the preferred values first, then spread evenly. */
function spread(solver: ReachSolver, form: ReachForm, preferred: Float64Array, sample: number, q: Float64Array): void {
  if (0 < sample) spreadAxes(solver.problem, form.chosen, form.steps, preferred, sample, q);
}

/** Puts axes where sample number `sample` of an even spread over their travel has them. */
export function spreadAxes(
  problem: ReachProblem,
  axes: readonly number[],
  steps: Float64Array,
  preferred: Float64Array,
  sample: number,
  q: Float64Array,
): void {
  const { low, high } = problem.travel;
  for (let i = 0; i < axes.length; i++) {
    const axis = axes[i];
    const share = 0.5 + steps[i] * sample;
    const span = spanOf(problem, problem.axes.indexOf(axis));
    const open = !(high[axis] - low[axis] < Infinity);
    const from = open ? Math.max(low[axis], preferred[axis] - span / 2) : low[axis];
    q[axis] = Math.min(from + (share - Math.floor(share)) * span, high[axis]);
  }
}

/** Copies the preferred values with the unknowns put inside their travel. */
function putInside({ axes, travel: { low, high } }: ReachProblem, preferred: Float64Array, q: Float64Array): void {
  for (let i = 0; i < q.length; i++) q[i] = preferred[i];
  for (let k = 0; k < axes.length; k++) {
    const axis = axes[k];
    q[axis] = Math.min(Math.max(q[axis], low[axis]), high[axis]);
  }
}

/** Takes whole turns off turning axes so that they are nearest to the preferred values, inside their travel. */
export function takeWholeTurns(problem: ReachProblem, q: Float64Array, preferred: Float64Array): void {
  const { chain, axes, travel: limits } = problem;
  for (let k = 0; k < axes.length; k++) {
    const axis = axes[k];
    // Within half a turn there is no nearer one. A whole turn of a leader is not one of its follower.
    if (chain.kind[axis] === LINEAR || Math.abs(q[axis] - preferred[axis]) <= Math.PI || leads(chain, axis)) continue;
    q[axis] = turnWithin(q[axis], preferred[axis], limits.low[axis], limits.high[axis], 0) ?? q[axis];
  }
}

function leads({ followers, root }: Chain, axis: number): boolean {
  for (let i = 0; i < followers.length; i++) if (root[followers[i]] === axis) return true;
  return false;
}

import { nearestTurn, TURN, turnWithin } from "../base/angle.ts";
import { seededRandom, type Random } from "../base/random.ts";
import { runToEnd, type Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { AimPlan } from "./aim-axes.ts";
import { aimStarts } from "./aim-start.ts";
import type { BaseFrame, Chain } from "./chain.ts";
import { angleMiss, descend, isReached, positionMiss, type ReachProblem } from "./reach-descent.ts";
import { evaluateReach, type ReachGoal } from "./reach-equations.ts";
import { beginForm } from "./reach-form.ts";
import { distanceFrom, slideNear, spanOf } from "./reach-near.ts";
import { nearestPose } from "./reach-nearest.ts";
import { sampleNear, samplePlaces } from "./reach-samples.ts";
import {
  beginReach,
  createReachSolver,
  formOf,
  reachDirectly,
  takeWholeTurns,
  type ReachSolver,
} from "./reach-solver.ts";
import type { ResolvedRig } from "./resolved-rig.ts";
import type { SolveStatus } from "./solve-status.ts";

export interface ReachRequest {
  readonly goal: ReachGoal;
  /** Joint indices of the axes to find, from `reachAxes`. All others keep their value of `preferred`. */
  readonly axes: readonly number[];
  /** Shape (n,): values to stay near where there is a choice. */
  readonly preferred: Float64Array;
  /** `nearest` looks on for a solution nearer to `preferred` when the first is far; `first` takes the first. */
  readonly search: "nearest" | "first";
}

export interface ReachResult {
  /** `out-of-reach` after every start failed; `stalled` when the goal itself has no meaning (target at the pupil, no axes). */
  readonly status: SolveStatus;
  /** Shape (n,), followers filled, inside all travels. Solved, or the pose that comes nearest. */
  readonly q: Float64Array;
  /** [m] and [rad], by the equations at `q`. */
  readonly positionError: number;
  readonly angleError: number;
  /** When out of reach: the nearest place of the pupil [m] from which the camera can look as asked, and how far it is. */
  readonly nearest?: Vec3;
  readonly distance?: number;
  /** Joint indices whose range stops it, a follower's own range included; empty when only the lengths of the arms do. */
  readonly stoppedBy?: readonly number[];
}

/** Enough that the hardest of some thousand reachable poses of the rigs in the tests took fewer than half. */
const STARTS = 160;
/** The same after poses spread over all that the arm can do did not lead there. */
const STARTS_BESIDE = 8;
const ROUNDS = 60;
/** Solutions that are compared for the nearest one. */
const ENOUGH = 4;
/** Root mean square of the distances from the preferred values, in shares of travel, that is near enough to look no further. */
const NEAR_ENOUGH = 0.15;

/** Joint indices that a camera point solves: all driven ones, but for a roll axis that keeps its value. */
export function reachAxes(rig: ResolvedRig, plan: AimPlan): number[] {
  return rig.joints.flatMap((joint, index) => (joint.role === "driven" && index !== plan.rollAxis ? [index] : []));
}

/**
 * Finds joint values that bring the entrance pupil to a place and let the camera look as asked, or any way, inside every travel:
 * from the preferred values, by the chain's closed form where it has one, then from many starts that are the same on
 * every run. A goal out of reach takes longest, see `reachTask`.
 *
 * @param solver Made once by `createReachSolver` for the request's axes, where many goals are solved.
 */
export function solveReach(chain: Chain, base: BaseFrame, request: ReachRequest, solver?: ReachSolver): ReachResult {
  const own = solver ?? createReachSolver(chain, request.axes);
  return reachShort(own, base, request) ?? runToEnd(reachLong(own, request));
}

/** `solveReach` for those who must not be held up: yields every few milliseconds while nothing is found. */
export function* reachTask(solver: ReachSolver, base: BaseFrame, request: ReachRequest): Task<ReachResult> {
  return reachShort(solver, base, request) ?? (yield* reachLong(solver, request));
}

/** Takes up the goal and answers what is without meaning or solved by the short ways. */
function reachShort(solver: ReachSolver, base: BaseFrame, request: ReachRequest): ReachResult | undefined {
  const { goal, preferred } = request;
  const { problem } = solver;
  const q = new Float64Array(preferred);
  beginReach(solver, base, goal);
  if (!hasMeaning(problem)) return result(problem, q, "stalled");
  if (!reachDirectly(solver, preferred, request.search === "nearest", q)) return undefined;
  // The first one found is the one that the equations hold; whole turns change nothing.
  return request.search === "first" ? resultAt(problem, q, "converged") : result(problem, q, "converged");
}

/** The solution that `q` leads down to; where it leads to none, `q` is where that ends. */
function reachedFrom(
  problem: ReachSolver["problem"],
  q: Float64Array,
  { preferred, search }: ReachRequest,
): ReachResult | undefined {
  if (descend(problem, q, 1, ROUNDS) !== "reached") return undefined;
  takeWholeTurns(problem, q, preferred);
  if (search === "nearest") slideNear(problem, q, preferred);
  return result(problem, q, "converged");
}

/** The long search, from many starts. The solver has taken up the goal. */
function* reachLong(solver: ReachSolver, request: ReachRequest): Task<ReachResult> {
  const { goal, preferred } = request;
  const { problem } = solver;
  const { base } = problem;
  const q = new Float64Array(preferred);
  const failed: Float64Array[] = [];
  const form = formOf(solver);
  if (form && beginForm(form, base, goal, preferred)) {
    for (const pose of yield* sampleNear(solver, form, preferred)) {
      q.set(pose);
      failed.push(q.slice());
      const reached = reachedFrom(problem, q, request);
      if (reached) return reached;
      failed.push(q.slice());
    }
    yield;
  }
  if (goal.orientation.kind === "free") {
    // One of these leads to a place in reach, or to the nearest there is.
    for (const pose of yield* samplePlaces(solver, preferred)) {
      q.set(pose);
      const reached = reachedFrom(problem, q, request);
      if (reached) return reached;
      failed.push(q.slice());
    }
  }
  const sampled = form !== null || goal.orientation.kind === "free";
  const random = seededRandom(0x5eed);
  const found: Float64Array[] = [];
  for (let start = 0; start < (sampled ? STARTS_BESIDE : STARTS); start++) {
    if (start % 8 === 7) yield;
    for (const from of startsFrom(problem, preferred, start, random)) {
      q.set(from);
      let end = descend(problem, q, 1, ROUNDS);
      if (end !== "reached") failed.push(Float64Array.from(q));
      if (end !== "reached" && hop(problem, q)) end = descend(problem, q, 1, ROUNDS);
      if (end !== "reached") continue;
      takeWholeTurns(problem, q, preferred);
      if (request.search === "first") return result(problem, q, "converged");
      slideNear(problem, q, preferred);
      found.push(Float64Array.from(q));
    }
    if (found.length === 0) continue;
    const best = Math.min(...found.map((one) => distanceFrom(problem, one, preferred)));
    if (ENOUGH <= found.length || (start === 0 && Math.sqrt(best) < NEAR_ENOUGH) || 12 < start) break;
  }
  if (0 < found.length) {
    found.sort((a, b) => distanceFrom(problem, a, preferred) - distanceFrom(problem, b, preferred));
    q.set(found[0]);
    return result(problem, q, "converged");
  }
  yield;
  const stopped = nearestPose(problem, failed, (pose) => otherBranches(problem, pose), q);
  takeWholeTurns(problem, q, preferred);
  evaluateReach(problem.chain, problem.base, q, goal, problem.equations);
  if (isReached(problem.equations)) return result(problem, q, "converged");
  const { pupil } = problem.equations;
  return {
    ...result(problem, q, "out-of-reach"),
    nearest: [pupil[0], pupil[1], pupil[2]],
    distance: positionMiss(problem.equations),
    stoppedBy: stopped,
  };
}

/** Finite, with unknowns, their travels not empty, and a line of sight. */
function hasMeaning({ goal, axes, travel: { low, high } }: ReachProblem): boolean {
  const { orientation, position, pupil } = goal;
  if (axes.length === 0) return false;
  for (let k = 0; k < axes.length; k++) if (!(low[axes[k]] <= high[axes[k]])) return false;
  if (!areFinite(position) || !Number.isFinite(pupil)) return false;
  if (orientation.kind === "free") return true;
  if (orientation.kind === "turn") return areFinite(orientation.turn);
  const { target, sight } = orientation;
  if (!areFinite(target) || !areFinite(sight)) return false;
  return 1e-9 < Math.hypot(target[0] - position[0], target[1] - position[1], target[2] - position[2]);
}

function areFinite(numbers: readonly number[]): boolean {
  for (let i = 0; i < numbers.length; i++) if (!Number.isFinite(numbers[i])) return false;
  return true;
}

/** First the preferred pose, as it is and with its head aimed in each closed form, then random ones with theirs aimed. */
function startsFrom(problem: ReachProblem, preferred: Float64Array, start: number, random: Random): Float64Array[] {
  const { axes, travel: limits } = problem;
  const q = Float64Array.from(preferred);
  axes.forEach((axis, k) => {
    const low = limits.low[axis];
    const high = limits.high[axis];
    if (0 < start) {
      const span = spanOf(problem, k);
      const from = Number.isFinite(high - low) ? low : clamp(preferred[axis] - span / 2, low, high - span);
      q[axis] = from + random() * span;
    }
    q[axis] = clamp(q[axis], low, high);
  });
  const aimed = aimedFrom(problem, q);
  return start === 0 ? [q, ...aimed] : aimed.length === 0 ? [q] : aimed.slice(0, 2);
}

/** The pose with its head aimed in each closed form, kept in the travels. */
function aimedFrom({ chain, base, goal, axes, travel: limits }: ReachProblem, q: Float64Array): Float64Array[] {
  const { orientation } = goal;
  if (orientation.kind !== "view") return [];
  const aiming = headAxes(chain.rig, axes, orientation.rule.kind === "horizon" ? 3 : 2);
  if (aiming.length < 2) return [];
  const view = { ...orientation, pupil: goal.pupil, widths: 1 };
  return aimStarts(chain, base, q, aiming, view).map((values) => {
    const one = Float64Array.from(q);
    aiming.forEach((axis, k) => {
      const low = limits.low[axis];
      const high = limits.high[axis];
      const near = Number.isFinite(high - low) ? (low + high) / 2 : q[axis];
      one[axis] = turnWithin(values[k], q[axis], low, high, 0) ?? clamp(nearestTurn(values[k], near), low, high);
    });
    return one;
  });
}

/** Poses that a way downhill can't come to from this one: the head's other branches, and axes on an end at the other. */
function otherBranches(problem: ReachProblem, q: Float64Array): Float64Array[] {
  const hopped = Float64Array.from(q);
  return hop(problem, hopped) ? [...aimedFrom(problem, q), hopped] : aimedFrom(problem, q);
}

/**
 * Takes every turning axis that is on an end of its travel a whole turn back, or as far of it as the travel goes: what
 * lies just beyond one end often lies just inside the other. Returns whether there was one.
 */
function hop({ chain, axes, travel: limits }: ReachProblem, q: Float64Array): boolean {
  let hopped = false;
  for (const axis of axes) {
    if (chain.rig.joints[axis].type !== "rotary") continue;
    const low = limits.low[axis];
    const high = limits.high[axis];
    const turn = high - 1e-9 <= q[axis] ? -TURN : q[axis] <= low + 1e-9 ? TURN : 0;
    if (turn === 0) continue;
    q[axis] = clamp(q[axis] + turn, low, high);
    hopped = true;
  }
  return hopped;
}

/** The axes nearest to the camera that turn it: the head's, or the last turning unknowns. */
function headAxes(rig: ResolvedRig, axes: Int32Array, most: number): number[] {
  const named = rig.head ? [rig.head.pan, rig.head.tilt, ...(rig.head.roll === undefined ? [] : [rig.head.roll])] : [];
  const turning = [...axes].filter((axis) => rig.joints[axis].type === "rotary");
  const own = named.filter((axis) => turning.includes(axis)).slice(0, most);
  return own.length === most ? own : turning.slice(-most);
}

function result(problem: ReachProblem, q: Float64Array, status: SolveStatus): ReachResult {
  evaluateReach(problem.chain, problem.base, q, problem.goal, problem.equations);
  return resultAt(problem, q, status);
}

/** `result` for a pose that the equations hold already. */
function resultAt(problem: ReachProblem, q: Float64Array, status: SolveStatus): ReachResult {
  return { status, q, positionError: positionMiss(problem.equations), angleError: angleMiss(problem.equations) };
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), high);
}

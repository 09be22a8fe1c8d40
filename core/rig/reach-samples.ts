import type { Task } from "../base/task.ts";
import { fillFollowers, forward, pupilPosition } from "./chain.ts";
import { angleMiss, positionMiss } from "./reach-descent.ts";
import { evaluateReach } from "./reach-equations.ts";
import { addCandidates, lookFrom, spreadSteps, turnOnPose, type ReachForm } from "./reach-form.ts";
import { spanOf } from "./reach-near.ts";
import { spreadAxes, type ReachSolver } from "./reach-solver.ts";

/** Poses of the arm that are looked at: so many for up to three axes, and as many again for each one more. */
const SAMPLES = 3000;
/** Poses that are kept, and how unlike they have to be, in shares of travel. */
const KEPT = 24;
const UNLIKE = 0.1;
/** Metres that a radian of an orientation that the wrist cannot take counts for. */
const ANGLE = 0.5;

/**
 * Poses spread over all that the arm can do, its wrist turned as asked as far as its ranges go: those that come nearest to
 * the goal, unlike each other, nearest first. What is near a goal in reach, or near the place nearest to one out of reach,
 * is near one of them.
 *
 * @param preferred Shape (n,): values of the joints that are no unknowns.
 */
export function* sampleNear(solver: ReachSolver, form: ReachForm, preferred: Float64Array): Task<Float64Array[]> {
  const { problem } = solver;
  const { chain, base, goal, equations } = problem;
  const { room, before, candidates } = form;
  const { position } = goal;
  const steps = spreadSteps(before.length);
  const offset = Math.hypot(...form.wrist.form.centre);
  const kept: { readonly pose: Float64Array; readonly merit: number }[] = [];
  let bar = Infinity;
  const count = SAMPLES * Math.max(1, before.length - 2);
  const view = goal.orientation.kind === "view";
  for (let sample = 0; sample < count; sample++) {
    if (sample % 1000 === 999) yield;
    spreadAxes(problem, before, steps, preferred, sample, room.q);
    fillFollowers(room.chain, room.q);
    forward(room.chain, base, room.q, room.pose);
    const at = room.pose.mountPosition;
    const [x, y, z] = [at[0] - position[0], at[1] - position[1], at[2] - position[2]];
    if (bar + offset < Math.sqrt(x * x + y * y + z * z)) continue;
    if (view && !lookFrom(form, base, goal, at[0], at[1], at[2])) continue;
    if (!turnOnPose(form, Infinity)) continue;
    const found = addCandidates(form, preferred, Infinity, 0, 2);
    for (let k = 0; k < found; k++) {
      const pose = candidates.subarray(k * chain.count, (k + 1) * chain.count);
      evaluateReach(chain, base, pose, goal, equations);
      const merit = positionMiss(equations) + ANGLE * angleMiss(equations);
      if (!(merit < bar)) continue;
      const like = kept.findIndex((one) => isLike(solver, one.pose, pose));
      if (0 <= like && kept[like].merit <= merit) continue;
      if (0 <= like) kept.splice(like, 1);
      kept.push({ pose: Float64Array.from(pose), merit });
      kept.sort((a, b) => a.merit - b.merit);
      if (KEPT < kept.length) kept.pop();
      if (kept.length === KEPT) bar = kept[KEPT - 1].merit;
    }
  }
  return kept.map(({ pose }) => pose);
}

/**
 * The same for a goal that is a place alone: all axes are spread over their travel.
 */
export function* samplePlaces(solver: ReachSolver, preferred: Float64Array): Task<Float64Array[]> {
  const { problem } = solver;
  const { chain, base, goal, equations } = problem;
  const axes = Array.from(problem.axes);
  const steps = spreadSteps(axes.length);
  const q = Float64Array.from(preferred);
  const kept: { readonly pose: Float64Array; readonly merit: number }[] = [];
  const count = SAMPLES * Math.max(1, axes.length - 2);
  for (let sample = 0; sample < count; sample++) {
    if (sample % 1000 === 999) yield;
    spreadAxes(problem, axes, steps, preferred, sample, q);
    fillFollowers(chain, q);
    forward(chain, base, q, equations.pose);
    pupilPosition(equations.pose, goal.pupil, equations.pupil);
    const [x, y, z] = equations.pupil;
    const merit = Math.hypot(x - goal.position[0], y - goal.position[1], z - goal.position[2]);
    if (kept.length === KEPT && kept[KEPT - 1].merit <= merit) continue;
    const like = kept.findIndex((one) => isLike(solver, one.pose, q));
    if (0 <= like && kept[like].merit <= merit) continue;
    if (0 <= like) kept.splice(like, 1);
    kept.push({ pose: Float64Array.from(q), merit });
    kept.sort((a, b) => a.merit - b.merit);
    if (KEPT < kept.length) kept.pop();
  }
  return kept.map(({ pose }) => pose);
}

function isLike({ problem }: ReachSolver, a: Float64Array, b: Float64Array): boolean {
  for (let k = 0; k < problem.axes.length; k++) {
    const axis = problem.axes[k];
    if (UNLIKE * spanOf(problem, k) < Math.abs(a[axis] - b[axis])) return false;
  }
  return true;
}

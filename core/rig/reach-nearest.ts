import { angleMiss, descend, positionMiss, type ReachProblem } from "./reach-descent.ts";
import { evaluateReach } from "./reach-equations.ts";

/** Metres that a radian counts for, step by step: the orientation hardens while the position gives. */
const WEIGHTS = [3, 30, 300, 3000] as const;
const ROUNDS = 120;
/** Starts that are followed to their end. */
const FOLLOWED = 16;
/** An orientation held this well counts as held [rad]. */
const HELD = 1e-5;
const ON_END = 1e-7;
/** An axis whose going on would gain less than this per radian, or metre, of the distance left does not stop the rig. */
const PUSH = 1e-4;
/** Poses nearer to each other than this lead to the same end [m, rad]. */
const SAME = 1e-3;

/**
 * Of all poses that look as asked, one whose pupil is nearest to the goal, sought downhill from the ends of failed
 * searches. Where no pose is found that looks as asked, the one that misses least.
 *
 * @param failed        Where the searches for an exact solution ended.
 * @param otherBranches Poses beside a pose that no way downhill leads to from it.
 * @param q             Receives the pose; `problem.equations` holds its misses.
 * @returns Joint indices whose ranges keep it from coming nearer.
 */
export function nearestPose(
  problem: ReachProblem,
  failed: readonly Float64Array[],
  otherBranches: (q: Float64Array) => Float64Array[],
  q: Float64Array,
): number[] {
  const { chain, base, goal, equations } = problem;
  const merit = (pose: Float64Array, weight: number): number => {
    evaluateReach(chain, base, pose, goal, equations);
    return positionMiss(equations) + weight * angleMiss(equations);
  };
  const poses = failed.map((pose) => ({ pose: Float64Array.from(pose), merit: merit(pose, 1) }));
  poses.sort((a, b) => a.merit - b.merit);
  let best = Infinity;
  const seen: Float64Array[] = [];
  const follow = (pose: Float64Array): boolean => {
    for (const weight of WEIGHTS) {
      descend(problem, pose, weight, ROUNDS);
      // As the orientation hardens the position only gives: what is no nearer now, or was here before, need not go on.
      if (best <= Math.hypot(positionMiss(equations), weight * angleMiss(equations))) return false;
      if (weight !== WEIGHTS[0]) continue;
      if (seen.some((other) => isSame(problem, other, pose))) return false;
      seen.push(Float64Array.from(pose));
    }
    // A pose that does not hold the orientation loses to every one that does.
    const held = angleMiss(equations) <= HELD;
    const found = positionMiss(equations) + (held ? 0 : 1e3 * (1 + angleMiss(equations)));
    if (best <= found + 1e-9) return false;
    best = found;
    q.set(pose);
    return true;
  };
  for (const { pose } of poses.slice(0, FOLLOWED)) follow(pose);
  for (let round = 0, better = true; better && round < 4; round++) {
    better = false;
    for (const pose of otherBranches(Float64Array.from(q))) better = follow(pose) || better;
  }
  evaluateReach(chain, base, q, goal, equations);
  return stoppedBy(problem, q);
}

function isSame({ axes }: ReachProblem, a: Float64Array, b: Float64Array): boolean {
  return axes.every((axis) => Math.abs(a[axis] - b[axis]) < SAME);
}

/** Axes at an end of their travel that would have to go on for the misses to shrink. */
function stoppedBy(problem: ReachProblem, q: Float64Array): number[] {
  const { axes, travel, equations } = problem;
  const { miss, slope, rows } = equations;
  const weight = WEIGHTS[WEIGHTS.length - 1];
  const stops: number[] = [];
  for (const axis of axes) {
    let rise = 0;
    let size = 0;
    for (let r = 0; r < rows; r++) {
      const w = r < 3 ? 1 : weight * weight;
      rise += w * slope[6 * axis + r] * miss[r];
      size += w * Math.abs(slope[6 * axis + r] * miss[r]);
    }
    if (Math.abs(rise) <= 1e-6 * size + PUSH * positionMiss(equations)) continue;
    if (rise < 0 && travel.high[axis] - q[axis] < ON_END) stops.push(travel.highBy[axis]);
    if (0 < rise && q[axis] - travel.low[axis] < ON_END) stops.push(travel.lowBy[axis]);
  }
  return stops;
}

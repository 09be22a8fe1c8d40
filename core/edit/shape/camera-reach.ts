import { add, length, normalise, scale, subtract, type Vec3 } from "../../base/vec3.ts";
import { unproject } from "../../lens/project.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";
import { aimAxes, aimPlan, type AimPlan } from "../../rig/aim-axes.ts";
import { baseFrame, compileRig } from "../../rig/chain.ts";
import { descend, type ReachProblem } from "../../rig/reach-descent.ts";
import type { ReachOrientation } from "../../rig/reach-equations.ts";
import { slideNear } from "../../rig/reach-near.ts";
import { nearestPose } from "../../rig/reach-nearest.ts";
import { reachAxes } from "../../rig/reach.ts";
import { beginReach, createReachSolver, type ReachSolver } from "../../rig/reach-solver.ts";
import type { SolvedText } from "../write-axes.ts";

/** How the rig of a move brings the camera to places at one of its keys, in the pose family that it has there. */
export interface CameraReach {
  /** Where the entrance pupil is now [m]. */
  readonly from: Vec3;
  readonly instant: Instant;
  /** Joint values that bring the pupil to a place of the set [m], or as near as the rig comes from where it is. */
  bring(place: Vec3): Brought;
}

export interface Brought {
  readonly reached: boolean;
  /** Shape (joints,). */
  readonly q: Float64Array;
  /** Where the pupil is then, and how far from the place [m]. */
  readonly at: Vec3;
  readonly miss: number;
  /** Axes of the move whose ranges stop it; empty where the lengths of the rig do. */
  readonly stoppedBy: readonly number[];
}

/** Parts of the way to a place that are gone one after the other, each from where the one before ended. */
const PARTS = 6;
const ROUNDS = 40;
/** How often a line of sight that hangs on where the camera is is taken anew, unless that moves by less [m]. */
const LOOKS = 4;
const SETTLED = 1e-4;
/** A target nearer to the pupil than this has no direction [m]. */
const ON_TARGET = 1e-6;

/**
 * @param given Axes of the move that may change for it; absent: all that are driven. Those that aim always may.
 */
export function createCameraReach(
  { move, trajectory }: SolvedText,
  key: number,
  given?: readonly number[],
): CameraReach {
  const instant = trajectory.createInstant();
  const { time } = move.keys[key];
  trajectory.at(time, instant, time < trajectory.duration ? "right" : "left");
  const from: Vec3 = [instant.position[0], instant.position[1], instant.position[2]];
  const chain = compileRig(move.rig);
  const preferred = new Float64Array(chain.count);
  move.axes.forEach(({ joint }, axis) => {
    if (0 <= joint) preferred[joint] = instant.value[axis];
  });
  const plan = planAt(move, key, instant);
  const aimed = 0 <= instant.aimTo;
  const solver = createReachSolver(chain, freeJoints(move, plan, aimed, given));
  const base = baseFrame(move.base);
  const start = putInside(solver, preferred);
  const aimAt = (place: Vec3, looksFrom: Vec3): void =>
    beginReach(solver, base, {
      position: place,
      pupil: instant.pupil,
      orientation: lookFrom(move, plan, instant, looksFrom),
    });
  return {
    from,
    instant,
    bring(place) {
      const { problem } = solver;
      const q = start.slice();
      const reached = reaches(problem, q, start, from, place, aimAt);
      let stops: readonly number[] = [];
      if (reached) {
        slideNear(problem, q, preferred);
        descend(problem, q, 1, ROUNDS);
      } else stops = comeNear(problem, q, place, aimAt);
      const at = pupilOf(problem);
      const stoppedBy = stops.map((joint) => move.axes.findIndex((axis) => axis.joint === joint));
      return { reached, q, at, miss: length(subtract(place, at)), stoppedBy: stoppedBy.filter((axis) => 0 <= axis) };
    },
  };
}

/** Takes up the goal of a place, with the view as it is from another one. */
type TakeUp = (place: Vec3, looksFrom: Vec3) => void;

/** Goes to a place at once, else part by part; `q` is then the pose there, or that of the last part that was reached. */
function reaches(
  problem: ReachProblem,
  q: Float64Array,
  start: Float64Array,
  from: Vec3,
  place: Vec3,
  aimAt: TakeUp,
): boolean {
  aimAt(place, place);
  if (descend(problem, q, 1, ROUNDS) === "reached") return true;
  q.set(start);
  const trial = start.slice();
  const way = subtract(place, from);
  for (let part = 1; part <= PARTS; part++) {
    const at = add(from, scale(way, part / PARTS));
    aimAt(at, at);
    if (descend(problem, trial, 1, ROUNDS) !== "reached") return false;
    q.set(trial);
  }
  return true;
}

/**
 * Comes as near to a place as it goes, and answers the joints whose ranges stop it. In a change of target the line of sight
 * hangs on where the camera is, so it is taken from there again.
 */
function comeNear(problem: ReachProblem, q: Float64Array, place: Vec3, aimAt: TakeUp): readonly number[] {
  let looksFrom = place;
  for (let round = 1; ; round++) {
    aimAt(place, looksFrom);
    const stops = nearestPose(problem, [q.slice()], () => [], q);
    const at = pupilOf(problem);
    if (round === LOOKS || length(subtract(at, looksFrom)) < SETTLED) return stops;
    looksFrom = at;
  }
}

const pupilOf = ({ equations: { pupil } }: ReachProblem): Vec3 => [pupil[0], pupil[1], pupil[2]];

function planAt(move: ResolvedMove, key: number, instant: Instant): AimPlan {
  const { head } = move.rig;
  const rolled = [...move.keys.slice(0, key + 1)].reverse().find(({ roll }) => roll)?.roll;
  const rollAxis = move.axes.findIndex(({ joint }) => 0 <= joint && joint === head?.roll);
  return aimPlan(move.rig, rolled?.kind === "level" ? "level" : (instant.value[rollAxis] ?? 0), move.up);
}

function freeJoints(move: ResolvedMove, plan: AimPlan, aimed: boolean, given?: readonly number[]): readonly number[] {
  const heading = aimAxes(move.rig);
  const own = given?.map((axis) => move.axes[axis].joint) ?? reachAxes(move.rig, plan);
  const free = own.filter((joint) => 0 <= joint && (aimed || !heading.includes(joint)));
  return [...new Set([...free, ...(aimed ? plan.axes : [])])].sort((a, b) => a - b);
}

/** How the camera is to look from a place: at what it aims at, where that is to be in the picture; any way without an aim. */
function lookFrom(move: ResolvedMove, plan: AimPlan, instant: Instant, place: Vec3): ReachOrientation {
  const target = sightPoint(instant, place);
  const sight: [number, number, number] = [1, 0, 0];
  if (!target || !unproject(move.optics, instant.focal, instant.wanted[0], instant.wanted[1], sight))
    return { kind: "free" };
  return { kind: "view", target, sight, rule: plan.rule };
}

/** The target, or in a switch a point on the blended line of sight. */
function sightPoint({ aimFrom, aimTo, aimBlend, targets }: Instant, place: Vec3): Vec3 | undefined {
  if (aimFrom < 0 || aimTo < 0) return undefined;
  const placeOf = (target: number): Vec3 => [targets[3 * target], targets[3 * target + 1], targets[3 * target + 2]];
  const [a, b] = [subtract(placeOf(aimFrom), place), subtract(placeOf(aimTo), place)];
  if (aimBlend <= 0) return ON_TARGET < length(a) ? placeOf(aimFrom) : undefined;
  if (1 <= aimBlend) return ON_TARGET < length(b) ? placeOf(aimTo) : undefined;
  const [to, on] = [normalise(a), normalise(b)];
  const blended = to && on && normalise(add(scale(to, 1 - aimBlend), scale(on, aimBlend)));
  return blended && add(place, scale(blended, length(b)));
}

/** Joint values with the unknowns put inside their travel. */
function putInside({ problem }: ReachSolver, values: Float64Array): Float64Array {
  const q = Float64Array.from(values);
  const { low, high } = problem.travel;
  for (const axis of problem.axes) q[axis] = Math.min(Math.max(q[axis], low[axis]), high[axis]);
  return q;
}

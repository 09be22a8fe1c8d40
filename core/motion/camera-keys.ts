import type { Task } from "../base/task.ts";
import { unproject } from "../lens/project.ts";
import { pupilAt } from "../lens/pupil.ts";
import { aimAxes, aimPlan, type AimPlan } from "../rig/aim-axes.ts";
import { createPoseBuffer, forward, type BaseFrame, type Chain } from "../rig/chain.ts";
import type { ReachOrientation } from "../rig/reach-equations.ts";
import { reachAxes, reachTask, type ReachResult } from "../rig/reach.ts";
import { createReachSolver, type ReachSolver } from "../rig/reach-solver.ts";
import { add, length, normalise, scale, subtract, type Vec3 } from "../base/vec3.ts";
import { quatAbout, rotateByQuat } from "../base/quat.ts";
import { knotAt } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan, FocusSpan } from "./move-model.ts";
import { recallReach, type Recall } from "./plan-record.ts";
import type { ResolvedCameraPoint, ResolvedKey, ResolvedMove } from "./resolved-move.ts";
import { ROOM } from "./series.ts";
import { createTargetRoom, writeTarget, type TargetCourse } from "./target-series.ts";
import { intervalAt, writeStill, writeTracks, type Tracks } from "./tracks.ts";
import type { KeyStatus } from "./trajectory.ts";

/** What solving the camera keys needs of a move that is being built. */
export interface CameraKeyTask {
  readonly move: ResolvedMove;
  readonly chain: Chain;
  readonly base: BaseFrame;
  /** Tracks of turntables, targets and the lens; of the driven axes as far as keys give them. */
  readonly tracks: Tracks;
  readonly targets: readonly TargetCourse[];
  readonly spans: readonly AimSpan[];
  readonly across: number;
  readonly down: number;
  readonly focal: number;
  readonly roll: number;
  /** What focus follows, and the track of set distances. */
  readonly focusSpans: readonly FocusSpan[];
  readonly focus: number;
  /** Value of each axis while nothing drives it. */
  readonly rest: readonly number[];
  /** Absent: nothing is kept or taken from the plan before. */
  readonly recall?: Recall;
}

export interface CameraKeys {
  readonly keys: readonly KeyStatus[];
  /** Solved values of the driven axes at camera keys, by axis of the move. */
  readonly knots: readonly (readonly Knot[])[];
}

/**
 * Solves the driven axes at every key that gives a camera point, in order of time: each stays near its neighbouring
 * keys. Axes that the key itself gives keep that value.
 *
 * @param keyed Knots of the axes that keys give, by axis.
 */
export function* solveCameraKeys(task: CameraKeyTask, keyed: readonly (readonly Knot[])[]): Task<CameraKeys> {
  const { move } = task;
  const knots: Knot[][] = move.axes.map(() => []);
  const keys: KeyStatus[] = [];
  const solvers = new Map<string, ReachSolver>();
  for (const key of move.keys) {
    if (!key.camera) {
      keys.push({ status: "converged" });
      continue;
    }
    const series = new Float64Array(task.tracks.curves.length * ROOM);
    writeStill(task.tracks, series);
    writeTracks(task.tracks, intervalAt(task.tracks, key.time, "right"), key.time, 0, series);
    keys.push(yield* solveKey(task, key, key.camera, series, keyed, knots, solvers));
    yield;
  }
  return { keys, knots };
}

/** Rounds in which the pupil of a lens that breathes and the pose that it gives settle on each other. */
const MOST_ROUNDS = 20;
/** Settled [m]. */
const SETTLED = 1e-11;

/** Solves a key and keeps its knots. Where the pupil goes with a focus that hangs on the pose, both are found in turn. */
function* solveKey(
  task: CameraKeyTask,
  key: ResolvedKey,
  camera: ResolvedCameraPoint,
  series: Float64Array,
  keyed: readonly (readonly Knot[])[],
  knots: Knot[][],
  solvers: Map<string, ReachSolver>,
): Task<KeyStatus> {
  const question = questionOf(task, key, camera, series, keyed, knots);
  const focal = series[task.focal * ROOM];
  let pupil = pupilAt(task.move.optics, focal, focusOfPose(task, key.time, series, undefined));
  let before: { readonly pupil: number; readonly gap: number } | undefined;
  for (let round = 1; ; round++) {
    const reached = yield* reachFor(task, question, pupil, solvers);
    const gap = pupilAt(task.move.optics, focal, focusOfPose(task, key.time, series, reached.q)) - pupil;
    if (Math.abs(gap) <= SETTLED || round === MOST_ROUNDS) return keep(task, key, question, reached, knots);
    const slope = before ? (gap - before.gap) / (pupil - before.pupil) : -1;
    before = { pupil, gap };
    // The secant, where it is one: a pupil goes less far than its focus, so that the slope is near -1.
    pupil -= gap / (slope < -0.2 && -5 < slope ? slope : -1);
  }
}

/** What is asked of the rig at a key, but for the pupil's offset. */
interface KeyQuestion {
  readonly position: Vec3;
  readonly orientation: ReachOrientation;
  /** Joint indices of the axes to find. */
  readonly axes: readonly number[];
  readonly preferred: Float64Array;
  /** The target that stands where the pupil is to be, so that there is no view of it: index, or -1. */
  readonly onTarget: number;
}

/** A target nearer to the pupil than this has no direction [m]. */
const ON_TARGET = 1e-6;

function questionOf(
  task: CameraKeyTask,
  key: ResolvedKey,
  camera: ResolvedCameraPoint,
  series: Float64Array,
  keyed: readonly (readonly Knot[])[],
  knots: readonly (readonly Knot[])[],
): KeyQuestion {
  const { move, chain } = task;
  const position = pointOf(task, camera, series);
  const span = spanAt(task.spans, key.time);
  const plan = planOf(task, key, span, series);
  const preferred = preferredValues(task, key.time, keyed, knots);
  if (plan.rollAxis !== undefined) {
    // The roll axis keeps its own channel.
    preferred[plan.rollAxis] = series[move.axes.findIndex((one) => one.joint === plan.rollAxis) * ROOM];
  }
  const given = new Set(key.axes.map(({ axis }) => move.axes[axis].joint));
  const target = span && 0 <= span.fromTarget ? sightPoint(task, span, position, series) : undefined;
  const sight: [number, number, number] = [1, 0, 0];
  const [focal, across, down] = [task.focal, task.across, task.down].map((track) => series[track * ROOM]);
  const onTarget = target && length(subtract(target, position)) < ON_TARGET ? span!.fromTarget : -1;
  if (target && onTarget < 0 && unproject(move.optics, focal, across, down, sight)) {
    const axes = reachAxes(move.rig, plan).filter((joint) => !given.has(joint));
    return { position, orientation: { kind: "view", target, sight, rule: plan.rule }, axes, preferred, onTarget };
  }
  const heading = aimAxes(move.rig);
  // The head keeps its own keys.
  move.axes.forEach(({ joint }, axis) => {
    if (heading.includes(joint)) preferred[joint] = series[axis * ROOM];
  });
  const axes = Array.from(chain.driven).filter((joint) => !given.has(joint) && !heading.includes(joint));
  return { position, orientation: { kind: "free" }, axes, preferred, onTarget };
}

function* reachFor(
  task: CameraKeyTask,
  { position, orientation, axes, preferred }: KeyQuestion,
  pupil: number,
  solvers: Map<string, ReachSolver>,
): Task<ReachResult> {
  const goal = { position, pupil, orientation };
  const name = JSON.stringify([axes, goal, [...preferred]]);
  const before = task.recall && recallReach(task.recall, name);
  if (before) return before;
  // What a chain's geometry allows is found once for keys that leave the same axes free.
  const solver = solvers.get(axes.join()) ?? createReachSolver(task.chain, axes);
  solvers.set(axes.join(), solver);
  const reached = yield* reachTask(solver, task.base, { goal, axes, preferred, search: "nearest" });
  task.recall?.record.reached.set(name, reached);
  return reached;
}

/** Focus distance of a pose [m], NaN without a focus; without a pose as if focus on a target were at infinity. */
function focusOfPose(task: CameraKeyTask, time: number, series: Float64Array, q: Float64Array | undefined): number {
  const span = spanAt(task.focusSpans, time);
  if (!span) return NaN;
  const pose = createPoseBuffer(task.chain);
  if (q) forward(task.chain, task.base, q, pose);
  const end = (target: number): number => {
    if (target < 0) return series[task.focus * ROOM];
    if (!q) return Infinity;
    const off = subtract(targetAt(task, target, series), [...pose.mountPosition] as unknown as Vec3);
    const m = pose.mountRotation;
    return task.move.optics.flange + m[0] * off[0] + m[3] * off[1] + m[6] * off[2];
  };
  const from = end(span.from);
  const share = span.share < 0 ? 0 : series[span.share * ROOM];
  return share === 0 ? from : share === 1 ? end(span.to) : from + share * (end(span.to) - from);
}

/** Stores a solution as knots of the solved axes and says what became of the key. */
function keep(
  task: CameraKeyTask,
  key: ResolvedKey,
  { axes, onTarget }: KeyQuestion,
  { q, status, nearest, distance, stoppedBy }: ReachResult,
  knots: Knot[][],
): KeyStatus {
  const axisOf = (joint: number): number => task.move.axes.findIndex((axis) => axis.joint === joint);
  for (const joint of axes) {
    const axis = axisOf(joint);
    if (0 <= axis) knots[axis].push(knotAt(key, q[joint]));
  }
  if (0 <= onTarget) return { status: "stalled", onTarget };
  if (status === "converged") return { status };
  return { status, nearest, distance, stoppedBy: stoppedBy?.map(axisOf).filter((axis) => 0 <= axis) };
}

/** Where a camera key wants the pupil [m]. `series`: tracks at that key. */
export function pointOf(
  task: Pick<CameraKeyTask, "move" | "targets">,
  camera: ResolvedCameraPoint,
  series: Float64Array,
): Vec3 {
  if (camera.kind === "at") return camera.at;
  const table = camera.in === undefined ? undefined : task.move.turntables[camera.in];
  const axis = task.move.axes.findIndex((one) => 0 <= one.turntable && one.turntable === camera.in);
  const offset =
    table && 0 <= axis ? rotateByQuat(quatAbout(table.along, series[axis * ROOM]), camera.offset) : camera.offset;
  return add(targetAt(task, camera.from, series), offset);
}

function targetAt(task: Pick<CameraKeyTask, "targets">, target: number, series: Float64Array): Vec3 {
  const place = new Float64Array(3 * ROOM);
  writeTarget(task.targets[target], series, 0, createTargetRoom(), place, 0);
  return [place[0], place[ROOM], place[2 * ROOM]];
}

/** A point on the line of sight from the pupil: the target, or in a switch one on the blended line. */
function sightPoint(task: CameraKeyTask, span: AimSpan, position: Vec3, series: Float64Array): Vec3 | undefined {
  const from = targetAt(task, span.fromTarget, series);
  if (span.share < 0) return from;
  const share = series[span.share * ROOM];
  if (share === 0) return from;
  const to = targetAt(task, span.toTarget, series);
  const a = normalise(subtract(from, position));
  const b = normalise(subtract(to, position));
  if (!a || !b) return undefined;
  const blended = normalise(add(scale(a, 1 - share), scale(b, share)));
  return blended && add(position, scale(blended, length(subtract(to, position))));
}

function planOf(task: CameraKeyTask, key: ResolvedKey, span: AimSpan | undefined, series: Float64Array): AimPlan {
  const level = key.roll?.kind === "level" || (span?.problem?.level === true && task.move.rig.head !== undefined);
  return aimPlan(task.move.rig, level ? "level" : series[task.roll * ROOM], task.move.up);
}

/** The span that holds `time`; where two meet the later one, which has begun. */
function spanAt<S extends { readonly start: number }>(spans: readonly S[], time: number): S | undefined {
  for (let i = spans.length - 1; 0 <= i; i--) if (spans[i].start <= time) return spans[i];
  return spans[0];
}

/** Joint values to stay near: between the neighbouring knots of each axis, whatever gave them. */
function preferredValues(
  task: CameraKeyTask,
  time: number,
  keyed: readonly (readonly Knot[])[],
  knots: readonly (readonly Knot[])[],
): Float64Array {
  const q = new Float64Array(task.chain.count);
  task.move.axes.forEach((axis, index) => {
    if (axis.joint < 0) return;
    const all = [...keyed[index], ...knots[index]].sort((a, b) => a.time - b.time);
    q[axis.joint] = interpolated(all, time) ?? task.move.near[index] ?? task.rest[index];
  });
  return q;
}

function interpolated(knots: readonly Knot[], time: number): number | undefined {
  const after = knots.findIndex((knot) => time <= knot.time);
  if (after < 0) return knots[knots.length - 1]?.value;
  if (after === 0) return knots[0].value;
  const a = knots[after - 1];
  const b = knots[after];
  return a.value + ((b.value - a.value) * (time - a.time)) / (b.time - a.time || 1);
}

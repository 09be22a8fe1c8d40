import type { Task } from "../base/task.ts";
import { unproject } from "../lens/project.ts";
import { aimAxes, aimPlan, type AimPlan } from "../rig/aim-axes.ts";
import type { BaseFrame, Chain } from "../rig/chain.ts";
import { reachAxes, reachTask } from "../rig/reach.ts";
import { createReachSolver, type ReachSolver } from "../rig/reach-solver.ts";
import { add, length, normalise, scale, subtract, type Vec3 } from "../base/vec3.ts";
import { quatAbout, rotateByQuat } from "../base/quat.ts";
import { knotAt } from "./key-timing.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan } from "./move-model.ts";
import { placePupil } from "./place-pupil.ts";
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
  /** Pupil in front of the flange at a focal length [m]. */
  readonly pupilAt: (focal: number) => number;
  /** Value of each axis while nothing drives it. */
  readonly rest: readonly number[];
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
  // What a chain's geometry allows is found once for keys that leave the same axes free.
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

function* solveKey(
  task: CameraKeyTask,
  key: ResolvedKey,
  camera: ResolvedCameraPoint,
  series: Float64Array,
  keyed: readonly (readonly Knot[])[],
  knots: Knot[][],
  solvers: Map<string, ReachSolver>,
): Task<KeyStatus> {
  const { move, chain, base } = task;
  const position = pointOf(task, camera, series);
  const focal = series[task.focal * ROOM];
  const pupil = task.pupilAt(focal);
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
  if (!target || !unproject(move.optics, focal, series[task.across * ROOM], series[task.down * ROOM], sight)) {
    const heading = aimAxes(move.rig);
    // The head keeps its own keys.
    move.axes.forEach(({ joint }, axis) => {
      if (heading.includes(joint)) preferred[joint] = series[axis * ROOM];
    });
    const free = Array.from(chain.driven).filter((joint) => !given.has(joint) && !heading.includes(joint));
    const placed = placePupil(chain, base, preferred, free, position, pupil);
    return keep(task, key, placed.q, free, knots, placed.status, placed.nearest, placed.distance, []);
  }
  const axes = reachAxes(move.rig, plan).filter((joint) => !given.has(joint));
  const orientation = { kind: "view", target, sight, rule: plan.rule } as const;
  const goal = { position, pupil, orientation };
  const solver = solvers.get(axes.join()) ?? createReachSolver(chain, axes);
  solvers.set(axes.join(), solver);
  const reached = yield* reachTask(solver, base, { goal, axes, preferred, search: "nearest" });
  return keep(task, key, reached.q, axes, knots, reached.status, reached.nearest, reached.distance, reached.stoppedBy);
}

/** Stores a solution as knots of the solved axes and says what became of the key. */
function keep(
  task: CameraKeyTask,
  key: ResolvedKey,
  q: Float64Array,
  joints: readonly number[],
  knots: Knot[][],
  status: KeyStatus["status"],
  nearest: Vec3 | undefined,
  distance: number | undefined,
  stoppedBy: readonly number[] | undefined,
): KeyStatus {
  const axisOf = (joint: number): number => task.move.axes.findIndex((axis) => axis.joint === joint);
  for (const joint of joints) {
    const axis = axisOf(joint);
    if (0 <= axis) knots[axis].push(knotAt(key, q[joint]));
  }
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
function spanAt(spans: readonly AimSpan[], time: number): AimSpan | undefined {
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

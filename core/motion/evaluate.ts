import { project } from "../lens/project.ts";
import { solveKernel } from "./aim-kernel.ts";
import { createCameraRoom, writeQuaternion, writeSpin, writeVelocity, type CameraRoom } from "./camera-pose.ts";
import {
  createFocusRoom,
  posedPupilTerm,
  writeFocusDistance,
  writeFocusRates,
  type FocusRoom,
} from "./focus-distance.ts";
import type { AimSpan, FocusSpan, MoveModel } from "./move-model.ts";
import { poseMoving, writeJoints } from "./moving-chain.ts";
import { pieceAt } from "./piecewise.ts";
import { createBlurRoom, type BlurRoom } from "./sample-blur.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import { createSolveRoom, solveInstant, standsUp, type SolveRoom } from "./solve-instant.ts";
import { FOLLOWED, WITHOUT_SOLUTION, writePath } from "./solved-path.ts";
import { writeTarget } from "./target-series.ts";
import { MISSED } from "./tolerances.ts";
import { intervalAt, writeTracks } from "./tracks.ts";
import type { Instant, Side, SolveStatus } from "./trajectory.ts";

/** What evaluating a model writes; one for each trajectory. */
export interface EvaluateRoom {
  readonly solve: SolveRoom;
  readonly camera: CameraRoom;
  readonly place: Float64Array;
  readonly seen: Float64Array;
  readonly focus: FocusRoom;
  readonly sight: Float64Array;
  /** Quaternion, shape (4,). */
  readonly turn: Float64Array;
  readonly blur: BlurRoom;
}

export function createEvaluateRoom(model: MoveModel): EvaluateRoom {
  const solve = createSolveRoom(model);
  return {
    solve,
    camera: createCameraRoom(solve.kernels.chain.count),
    place: new Float64Array(3 * ROOM),
    seen: new Float64Array(2),
    focus: createFocusRoom(solve.kernels.chain, solve.target),
    sight: new Float64Array(3),
    turn: new Float64Array(4),
    blur: createBlurRoom(),
  };
}

export function createInstant(model: MoveModel): Instant {
  const n = model.move.axes.length;
  const m = model.move.targets.length;
  return {
    t: 0,
    status: "converged",
    value: new Float64Array(n),
    speed: new Float64Array(n),
    accel: new Float64Array(n),
    jerk: new Float64Array(n),
    position: new Float64Array(3),
    velocity: new Float64Array(3),
    pupil: 0,
    rotation: new Float64Array(4),
    spin: new Float64Array(3),
    focal: 0,
    iris: 0,
    focus: 0,
    focusFrom: -1,
    focusTo: -1,
    focusBlend: 0,
    focalRates: new Float64Array(3),
    irisRates: new Float64Array(3),
    focusRates: new Float64Array(3),
    targets: new Float64Array(3 * m),
    targetVelocity: new Float64Array(3 * m),
    framing: new Float64Array(2 * m),
    distance: new Float64Array(m),
    wanted: new Float64Array(2),
    reached: new Float64Array(2),
    aimFrom: -1,
    aimTo: -1,
    aimBlend: 0,
    poleAngle: NaN,
  };
}

/**
 * Series of all axes at `t`, orders 0 to `order`, in `room.series`: tracks, and solved axes from their path's starting
 * values by Newton's method. The result hangs on `t` and `side` alone, not on what was asked before.
 */
export function evaluateAxes(model: MoveModel, room: SolveRoom, t: number, side: Side, order: number): SolveStatus {
  const { series, kernels, where } = room;
  const interval = (where[0] = inside(model.tracks.knots, where[0], t) ? where[0] : intervalAt(model.tracks, t, side));
  kernels.written[0] = 0;
  writeTracks(model.tracks, interval, t, order, series);
  const at = model.spanOf[interval];
  const span = model.spans[at];
  if (!span?.problem || !span.path) return "converged";
  const { unknown } = span.problem;
  const { times } = span.path;
  const piece = (where[1] = inside(times, where[1], t) ? where[1] : pieceAt(times, t, side));
  const state = span.path.state[piece];
  const known = state === FOLLOWED ? 0 : order;
  for (let u = 0; u < unknown.length; u++) writePath(span.path, u, piece, t, known, series, unknown[u] * ROOM);
  // Where the aim has no solution the path itself is the motion.
  if (state === WITHOUT_SOLUTION) return "stalled";
  if (state === FOLLOWED && kernels.fits[at] === 1 && (order === 0 || order === 3)) {
    if (solveKernel(model, kernels, span, series, room.target, order)) {
      kernels.written[0] = 1;
      return "converged";
    }
  }
  const aim = solveInstant(model, room, span, interval, order);
  return aim.miss[0] < MISSED && standsUp(span, aim) ? "converged" : "stalled";
}

/** True strictly between both ends of a piece, where sides are one: instants are mostly asked for one after the other. */
const inside = (times: Float64Array, piece: number, t: number): boolean => times[piece] < t && t < times[piece + 1];

/** Writes all that is known at `t` into `out`; without `rates` all speeds, accelerations and jerks are NaN. */
export function evaluate(
  model: MoveModel,
  room: EvaluateRoom,
  time: number,
  out: Instant,
  side: Side,
  rates = true,
): void {
  const t = 0 <= time ? Math.min(time, model.duration) : 0;
  const { series } = room.solve;
  const { value, speed, accel, jerk } = out;
  const { root, ratio, offset } = model;
  out.t = t;
  out.status = evaluateAxes(model, room.solve, t, side, rates ? 3 : 0);
  for (let i = 0; i < value.length; i++) {
    const at = root[i] * ROOM;
    value[i] = ratio[i] * series[at] + offset[i];
    speed[i] = rates ? ratio[i] * series[at + 1] : NaN;
    accel[i] = rates ? ratio[i] * FACTORIAL[2] * series[at + 2] : NaN;
    jerk[i] = rates ? ratio[i] * FACTORIAL[3] * series[at + 3] : NaN;
  }
  const interval = room.solve.where[0];
  out.focal = series[model.focal * ROOM];
  out.iris = series[model.iris * ROOM];
  placeCamera(model, room, interval, out, rates);
  seeTargets(model, room, out, rates);
  writeAim(model, room, interval, out);
}

/** Poses the camera where `evaluateAxes` has put the axes. */
export function poseAxes({ kernels, series }: SolveRoom, camera: CameraRoom): void {
  if (kernels.written[0] === 0) writeJoints(kernels.chain, series, kernels.joints);
  poseMoving(kernels.chain, kernels.joints, camera);
}

function placeCamera(model: MoveModel, room: EvaluateRoom, interval: number, out: Instant, rates: boolean): void {
  const { camera } = room;
  const { series, kernels } = room.solve;
  poseAxes(room.solve, camera);
  writeFocusDistance(model, room.focus, series, camera, interval);
  out.focus = room.focus.distance[0];
  const span: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  out.focusFrom = span ? span.from : -1;
  out.focusTo = span ? span.to : -1;
  out.focusBlend = span && 0 <= span.share ? series[span.share * ROOM] : 0;
  out.pupil = posedPupilTerm(model, room.focus, series, interval, 0);
  for (let axis = 0; axis < 3; axis++) {
    out.position[axis] = camera.flange[axis] + out.pupil * camera.rotation[3 * axis];
  }
  writeQuaternion(camera.rotation, out.rotation);
  if (!rates) {
    withoutRates(out);
    return;
  }
  writeFocusRates(model, kernels.chain, room.focus, series, interval);
  writeRates(series, model.focal * ROOM, out.focalRates);
  writeRates(series, model.iris * ROOM, out.irisRates);
  writeRates(room.focus.distance, 0, out.focusRates);
  const slide = posedPupilTerm(model, room.focus, series, interval, 1);
  writeVelocity(kernels.chain, series, camera, out.position, slide, out.velocity);
  writeSpin(kernels.chain, series, camera, out.spin);
}

function withoutRates(out: Instant): void {
  out.velocity.fill(NaN);
  out.spin.fill(NaN);
  out.focalRates.fill(NaN);
  out.irisRates.fill(NaN);
  out.focusRates.fill(NaN);
}

/** Speed, acceleration and jerk of the series at `from`. */
function writeRates(series: Float64Array, from: number, out: Float64Array): void {
  for (let k = 1; k <= 3; k++) out[k - 1] = FACTORIAL[k] * series[from + k];
}

function seeTargets(model: MoveModel, room: EvaluateRoom, out: Instant, rates: boolean): void {
  const { rotation } = room.camera;
  for (let m = 0; m < model.targets.length; m++) {
    writeTarget(model.targets[m], room.solve.series, rates ? 1 : 0, room.solve.target, room.place, 0);
    let square = 0;
    for (let axis = 0; axis < 3; axis++) {
      out.targets[3 * m + axis] = room.place[axis * ROOM];
      out.targetVelocity[3 * m + axis] = rates ? room.place[axis * ROOM + 1] : NaN;
      room.sight[axis] = room.place[axis * ROOM] - out.position[axis];
      square += room.sight[axis] ** 2;
    }
    out.distance[m] = Math.sqrt(square);
    see(model, room, rotation, out.focal, room.sight);
    out.framing[2 * m] = room.seen[0];
    out.framing[2 * m + 1] = room.seen[1];
  }
}

/** Framing of a direction of the set into `room.seen`. */
function see(model: MoveModel, room: EvaluateRoom, r: Float64Array, focal: number, v: Float64Array): void {
  const x = r[0] * v[0] + r[3] * v[1] + r[6] * v[2];
  const y = r[1] * v[0] + r[4] * v[1] + r[7] * v[2];
  const z = r[2] * v[0] + r[5] * v[1] + r[8] * v[2];
  project(model.move.optics, focal, x, y, z, room.seen);
}

/** What is aimed at, where it is asked for and where it is, and how far the sight is off the first aim axis. */
function writeAim(model: MoveModel, room: EvaluateRoom, interval: number, out: Instant): void {
  const span: AimSpan | undefined = model.spans[model.spanOf[interval]];
  out.wanted[0] = out.wanted[1] = out.reached[0] = out.reached[1] = NaN;
  out.poleAngle = NaN;
  out.aimFrom = span ? span.fromTarget : -1;
  out.aimTo = span ? span.toTarget : -1;
  out.aimBlend = 0;
  if (!span || span.fromTarget < 0) return;
  const { series } = room.solve;
  out.wanted[0] = series[model.across * ROOM];
  out.wanted[1] = series[model.down * ROOM];
  if (0 <= span.share) out.aimBlend = series[span.share * ROOM];
  const square = seeAim(model, room, span, out.aimBlend, out.focal, out, 0);
  out.reached[0] = room.seen[0];
  out.reached[1] = room.seen[1];
  if (!span.problem || span.problem.unknown.length < 2 || !(0 < square)) return;
  const step = room.solve.kernels.first[model.spanOf[interval]];
  let along = 0;
  for (let axis = 0; axis < 3; axis++) along += room.camera.along[3 * step + axis] * room.sight[axis];
  const cosine = Math.min(1, Math.abs(along) / Math.sqrt(square));
  out.poleAngle = cosine < 0.9 ? Math.acos(cosine) : sineAngle(room, step, square);
}

/**
 * Where what is aimed at is in the picture, into `room.seen`: during a change of aim between both targets.
 *
 * @param row Of the tables: 0 for an instant.
 * @returns The square of the sight's length: 1 but in a change of aim.
 */
export function seeAim(
  model: MoveModel,
  room: EvaluateRoom,
  { fromTarget, toTarget }: AimSpan,
  blend: number,
  focal: number,
  { targets, position, distance }: Pick<Instant, "targets" | "position" | "distance">,
  row: number,
): number {
  const first = row * model.targets.length;
  let square = 0;
  for (let axis = 0; axis < 3; axis++) {
    const at = position[3 * row + axis];
    const from = divided(targets[3 * (first + fromTarget) + axis] - at, distance[first + fromTarget]);
    const to = divided(targets[3 * (first + toTarget) + axis] - at, distance[first + toTarget]);
    room.sight[axis] = from + blend * (to - from);
    square += room.sight[axis] ** 2;
  }
  see(model, room, room.camera.rotation, focal, room.sight);
  return square;
}

/** The angle from its sine, which is exact for small ones. */
function sineAngle(room: EvaluateRoom, step: number, square: number): number {
  const [a, s] = [room.camera.along, room.sight];
  const i = 3 * step;
  const x = a[i + 1] * s[2] - a[i + 2] * s[1];
  const y = a[i + 2] * s[0] - a[i] * s[2];
  const z = a[i] * s[1] - a[i + 1] * s[0];
  return Math.asin(Math.min(1, Math.sqrt((x * x + y * y + z * z) / square)));
}

function divided(a: number, b: number): number {
  return 0 < b ? a / b : 0;
}

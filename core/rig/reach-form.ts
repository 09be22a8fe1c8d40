import { TURN, wrapAngle } from "../base/angle.ts";
import { matrixFromQuat } from "../base/quat.ts";
import { createArmRoom, solveArm, type ArmForm, type ArmRoom } from "./arm-form.ts";
import { fillFollowers, forward, LINEAR, type BaseFrame, type Chain } from "./chain.ts";
import { findArmForm } from "./find-arm-form.ts";
import type { ReachGoal } from "./reach-equations.ts";
import type { Travel } from "./travel.ts";
import { turnByTriads, viewTriads } from "./view-rotation.ts";
import { solveThreeTurns, solveTwoTurns } from "./wrist-form.ts";
import { createMeasuredWrist, measureWrist, type MeasuredWrist } from "./wrist-measure.ts";

/**
 * A chain that ends in turns about one point: those give the orientation, and what is before them brings the point to its
 * place, in closed form when three axes allow it. Exact where the turns do meet; else, or where the pupil is off the line
 * of sight, a start near the solution.
 */
export interface ReachForm {
  readonly chain: Chain;
  readonly travel: Travel;
  readonly wrist: MeasuredWrist;
  /** Unknowns before the wrist, joint indices in chain order. */
  readonly before: readonly number[];
  /** Absent when no three of them have a closed form. */
  readonly arm?: ArmForm;
  /** Those of `before` that have to be chosen, for the rest to have solutions. */
  readonly chosen: readonly number[];
  /** Shares of their travel by which they go on from one try to the next, spreading evenly. */
  readonly steps: Float64Array;
  readonly room: ArmRoom;
  /** For goals that ask for two turns: unit sight in the camera frame, and the way that it has to point in the set. */
  readonly sight: Float64Array;
  readonly toward: Float64Array;
  /** Wanted rotation of the camera, row-major; near it where the goal leaves a choice. */
  readonly wanted: Float64Array;
  readonly difference: Float64Array;
  /** Poses found by `formCandidates`, shape (8, n). */
  readonly candidates: Float64Array;
  /** How far the form may be from the truth [m or rad]. */
  slack: number;
}

/** Turns that pass by each other farther than this [m] are no wrist: what holds for one is no start for them. */
const APART = 0.06;

/**
 * Finds the form of a chain, if it has one.
 *
 * @param axes Joint indices of the unknowns, in chain order.
 * @param size How many turns the orientation asks for.
 */
export function findReachForm(
  chain: Chain,
  travel: Travel,
  axes: readonly number[],
  size: 2 | 3,
): ReachForm | undefined {
  const turning = axes.filter((axis) => chain.kind[axis] !== LINEAR);
  const wrist = turning.slice(-size);
  const before = axes.filter((axis) => !wrist.includes(axis));
  if (wrist.length < size || before.some((axis) => wrist[0] < axis)) return undefined;
  const leads = (axis: number): boolean => chain.followers.some((follower) => chain.root[follower] === axis);
  if (wrist.some(leads)) return undefined;
  // The arm ends in the frame of the first turn, whose mount stands for the wrist's centre.
  const room = createArmRoom({
    ...chain,
    count: wrist[0] + 1,
    followers: chain.followers.filter((follower) => follower <= wrist[0]),
    mountRotation: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1),
    mountPosition: new Float64Array(3),
  });
  const measured = createMeasuredWrist(chain, wrist, axes);
  if (!measureWrist(measured, new Float64Array(chain.count), 0) || APART < measured.pass) return undefined;
  room.chain.mountPosition.set(measured.inFirst);
  const arm = findArmForm(room, before);
  const chosen = before.filter((axis) => axis !== arm?.lone && axis !== arm?.first && axis !== arm?.second);
  return {
    chain,
    travel,
    wrist: measured,
    before,
    arm,
    chosen,
    steps: spreadSteps(chosen.length),
    room,
    sight: new Float64Array(3),
    toward: new Float64Array(3),
    wanted: new Float64Array(9),
    difference: new Float64Array(9),
    candidates: new Float64Array(8 * chain.count),
    slack: 0,
  };
}

/** Steps whose multiples fill a space of that many dimensions evenly: powers of the root of x^(d+1) = x + 1. */
export function spreadSteps(dimensions: number): Float64Array {
  let root = 1.5;
  for (let i = 0; i < 60; i++) root = Math.pow(1 + root, 1 / (dimensions + 1));
  return Float64Array.from({ length: dimensions }, (_, i) => Math.pow(root, -(i + 1)));
}

/**
 * Takes up a goal: where the wrist's centre has to be and how the camera has to be turned.
 *
 * @param preferred Shape (n,): values of all joints that are no unknowns.
 * @returns False where the goal gives no orientation, looking straight along up.
 */
export function beginForm(form: ReachForm, base: BaseFrame, goal: ReachGoal, preferred: Float64Array): boolean {
  const { room, wrist } = form;
  for (let i = 0; i < preferred.length; i++) room.q[i] = preferred[i];
  // The frame that the wrist turns in is that of its first turn at 0.
  room.q[wrist.joints[0]] = 0;
  if (!measureWrist(wrist, preferred, goal.pupil)) return false;
  for (let r = 0; r < 3; r++) room.chain.mountPosition[r] = wrist.inFirst[r];
  return lookFrom(form, base, goal, goal.position[0], goal.position[1], goal.position[2]);
}

/** How the camera has to be turned for the goal with its pupil at a place. False where the goal gives no orientation. */
export function lookFrom(form: ReachForm, base: BaseFrame, goal: ReachGoal, x: number, y: number, z: number): boolean {
  const { wrist, wanted } = form;
  const { orientation } = goal;
  form.slack = 1e-9 + 3 * wrist.pass;
  if (orientation.kind === "free") return false;
  if (orientation.kind === "turn") {
    matrixFromQuat(orientation.turn, wanted);
    return true;
  }
  const { rule, target, sight } = orientation;
  const toTarget = [target[0] - x, target[1] - y, target[2] - z] as const;
  const m = base.rotation;
  const [angle, up] = rule.kind === "horizon" ? [rule.angle, rule.up] : [0, [m[2], m[5], m[8]] as const];
  const triads =
    viewTriads(sight, toTarget, angle, up) ??
    (rule.kind === "axis" ? viewTriads(sight, toTarget, angle, [m[0], m[3], m[6]]) : undefined);
  if (!triads) return false;
  for (let c = 0; c < 3; c++) {
    const column = turnByTriads(triads, [c === 0 ? 1 : 0, c === 1 ? 1 : 0, c === 2 ? 1 : 0]);
    for (let r = 0; r < 3; r++) wanted[3 * r + c] = column[r];
  }
  if (rule.kind === "horizon") return true;
  // The turn about the sight is only guessed: what of the pupil's offset is off the sight may be anywhere around it.
  form.sight.set(triads.camera[0]);
  form.toward.set(triads.set[0]);
  const k = wrist.form.centre;
  const on = k[0] * form.sight[0] + k[1] * form.sight[1] + k[2] * form.sight[2];
  form.slack += 3 * Math.sqrt(Math.max(0, k[0] * k[0] + k[1] * k[1] + k[2] * k[2] - on * on));
  return true;
}

/**
 * All poses of the form with the chosen axes at the values that `q` has there, inside the travels or, where the form is
 * not exact, nearly so. Allocates nothing.
 *
 * @param q       Shape (n,): values of the chosen axes, and those to be near by whole turns.
 * @param nearest Gives poses that come near, their axes put to the ends of their travel, where there are none.
 * @param most    Stops when it has that many.
 * @returns How many are in `form.candidates`.
 */
export function formCandidates(
  form: ReachForm,
  base: BaseFrame,
  goal: ReachGoal,
  q: Float64Array,
  nearest: boolean,
  most = 8,
): number {
  const { arm, chosen, room, wanted: m } = form;
  const k = form.wrist.form.centre;
  const { position } = goal;
  for (let i = 0; i < chosen.length; i++) room.q[chosen[i]] = q[chosen[i]];
  const slack = nearest ? Infinity : form.slack;
  if (!arm) return turnWrist(form, base, Infinity) ? addCandidates(form, q, Infinity, 0, most) : 0;
  const found = solveArm(
    room,
    arm,
    base,
    position[0] + m[0] * k[0] + m[1] * k[1] + m[2] * k[2],
    position[1] + m[3] * k[0] + m[4] * k[1] + m[5] * k[2],
    position[2] + m[6] * k[0] + m[7] * k[1] + m[8] * k[2],
    nearest,
  );
  let count = 0;
  for (let i = 0; i < found && count < most; i++) {
    const lone = placed(form, q, arm.lone, room.solutions[3 * i], slack);
    const first = placed(form, q, arm.first, room.solutions[3 * i + 1], slack);
    const second = placed(form, q, arm.second, room.solutions[3 * i + 2], slack);
    if (Number.isNaN(lone + first + second)) continue;
    room.q[arm.lone] = lone;
    room.q[arm.first] = first;
    room.q[arm.second] = second;
    if (turnWrist(form, base, slack)) count = addCandidates(form, q, slack, count, most);
  }
  return count;
}

/** Adds the poses of the arm in `room.q` with both ways to turn the wrist; returns how many there are now. */
export function addCandidates(form: ReachForm, q: Float64Array, slack: number, count: number, most: number): number {
  const { room, candidates, chain } = form;
  const { form: turns, joints } = form.wrist;
  const n = chain.count;
  let total = count;
  for (let way = 0; way < 2 && total < most; way++) {
    const at = n * total;
    let fits = true;
    for (let i = 0; i < n; i++) candidates[at + i] = room.q[i];
    for (let i = 0; i < joints.length && fits; i++) {
      const value = placed(form, q, joints[i], turns.solutions[3 * way + i], slack);
      candidates[at + joints[i]] = value;
      fits = !Number.isNaN(value);
    }
    if (fits) total += 1;
  }
  return total;
}

function turnWrist(form: ReachForm, base: BaseFrame, slack: number): boolean {
  const { room } = form;
  fillFollowers(room.chain, room.q);
  forward(room.chain, base, room.q, room.pose);
  return turnOnPose(form, slack);
}

/** Both ways to turn the wrist on an arm that stands as `room.pose` has it; `slack` as in `solveTwoTurns`. */
export function turnOnPose(form: ReachForm, slack: number): boolean {
  const { room, wrist, wanted: m, sight, toward, difference: d } = form;
  const turns = wrist.form;
  const h = room.pose.mountRotation;
  const { mount } = turns;
  if (turns.size === 2) {
    // The sight in the wrist's frame, and the way to the target in it.
    const x = sight[0];
    const y = sight[1];
    const z = sight[2];
    const lx = toward[0];
    const ly = toward[1];
    const lz = toward[2];
    return solveTwoTurns(
      turns,
      mount[0] * x + mount[1] * y + mount[2] * z,
      mount[3] * x + mount[4] * y + mount[5] * z,
      mount[6] * x + mount[7] * y + mount[8] * z,
      h[0] * lx + h[3] * ly + h[6] * lz,
      h[1] * lx + h[4] * ly + h[7] * lz,
      h[2] * lx + h[5] * ly + h[8] * lz,
      slack,
    );
  }
  // H' · wanted · mount'
  for (let r = 0; r < 3; r++) {
    const x = h[r] * m[0] + h[3 + r] * m[3] + h[6 + r] * m[6];
    const y = h[r] * m[1] + h[3 + r] * m[4] + h[6 + r] * m[7];
    const z = h[r] * m[2] + h[3 + r] * m[5] + h[6 + r] * m[8];
    for (let c = 0; c < 3; c++) d[3 * r + c] = x * mount[3 * c] + y * mount[3 * c + 1] + z * mount[3 * c + 2];
  }
  return solveThreeTurns(turns, d, slack);
}

/** A value inside its travel, a turn by whole turns nearest to that of `q`; NaN when it is outside by more than `slack`. */
function placed({ chain, travel }: ReachForm, q: Float64Array, axis: number, value: number, slack: number): number {
  const low = travel.low[axis];
  const high = travel.high[axis];
  let at = value;
  if (chain.kind[axis] !== LINEAR) {
    at = q[axis] + wrapAngle(value - q[axis]);
    const below = low - at;
    const above = at - high;
    if (0 < below) {
      const up = at + TURN * Math.ceil(below / TURN);
      if (up <= high || up - high < below) at = up;
    } else if (0 < above) {
      const down = at - TURN * Math.ceil(above / TURN);
      if (low <= down || low - down < above) at = down;
    }
  }
  if (at < low) return low - at <= slack ? low : NaN;
  if (high < at) return at - high <= slack ? high : NaN;
  return at;
}

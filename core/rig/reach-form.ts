import { TURN, wrapAngle } from "../base/angle.ts";
import { matrixFromQuat } from "../base/quat.ts";
import { createArmRoom, findArmForm, solveArm, type ArmForm, type ArmRoom } from "./arm-form.ts";
import { fillFollowers, forward, LINEAR, type BaseFrame, type Chain } from "./chain.ts";
import type { ReachGoal } from "./reach-equations.ts";
import type { Travel } from "./travel.ts";
import { turnByTriads, viewTriads } from "./view-rotation.ts";
import { solveThreeTurns, solveTwoTurns } from "./wrist-form.ts";
import { createMeasuredWrist, measureWrist, type MeasuredWrist } from "./wrist-measure.ts";

/**
 * A chain that ends in turns about one point: those give the orientation, and what is before them brings the point to its
 * place. Exact where the axes do meet; else, or where the pupil is off the line of sight, a start near the solution.
 */
export interface ReachForm {
  readonly chain: Chain;
  readonly travel: Travel;
  readonly wrist: MeasuredWrist;
  readonly arm: ArmForm;
  /** Unknowns before the wrist that are to be chosen before the rest has a solution. */
  readonly chosen: readonly number[];
  /** Shares of their travel by which they go on from one try to the next, spreading evenly. */
  readonly steps: Float64Array;
  readonly room: ArmRoom;
  /** Unit sight in the camera frame, for goals that ask for two turns. */
  readonly sight: Float64Array;
  /** Wanted rotation of the camera, row-major; near it where the goal leaves a choice. */
  readonly wanted: Float64Array;
  readonly difference: Float64Array;
  /** Poses found by `formCandidates`, shape (8, n). */
  readonly candidates: Float64Array;
  /** How far the form may be from the truth [m or rad]. */
  slack: number;
}

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
  if (wrist.length < size || before.length < 3 || before.some((axis) => wrist[0] < axis)) return undefined;
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
  if (!measureWrist(measured, new Float64Array(chain.count), 0)) return undefined;
  room.chain.mountPosition.set(measured.inFirst);
  const arm = findArmForm(room, before);
  if (!arm) return undefined;
  const chosen = before.filter((axis) => axis !== arm.lone && axis !== arm.first && axis !== arm.second);
  return {
    chain,
    travel,
    wrist: measured,
    arm,
    chosen,
    steps: spreadSteps(chosen.length),
    room,
    sight: new Float64Array(3),
    wanted: new Float64Array(9),
    difference: new Float64Array(9),
    candidates: new Float64Array(8 * chain.count),
    slack: 0,
  };
}

/** Steps whose multiples fill a space of that many dimensions evenly: powers of the root of x^(d+1) = x + 1. */
function spreadSteps(dimensions: number): Float64Array {
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
  const { room, wrist, wanted } = form;
  for (let i = 0; i < preferred.length; i++) room.q[i] = preferred[i];
  // The frame that the wrist turns in is that of its first turn at 0.
  room.q[wrist.joints[0]] = 0;
  if (!measureWrist(wrist, preferred, goal.pupil)) return false;
  for (let r = 0; r < 3; r++) room.chain.mountPosition[r] = wrist.inFirst[r];
  const { orientation, position } = goal;
  let aside = 0;
  if (orientation.kind === "turn") matrixFromQuat(orientation.turn, wanted);
  else {
    const { rule, target, sight } = orientation;
    const toTarget = [target[0] - position[0], target[1] - position[1], target[2] - position[2]] as const;
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
    if (rule.kind === "axis") {
      const size = Math.hypot(...sight);
      const k = wrist.form.centre;
      const on = (k[0] * sight[0] + k[1] * sight[1] + k[2] * sight[2]) / size;
      aside = Math.sqrt(Math.max(0, k[0] * k[0] + k[1] * k[1] + k[2] * k[2] - on * on));
      // For the wrist only the sight and where it has to point count.
      for (let r = 0; r < 3; r++) form.sight[r] = sight[r] / size;
    }
  }
  form.slack = 1e-9 + 3 * (wrist.pass + aside);
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
  const { arm, chosen, room, wanted: m, candidates, chain } = form;
  const { form: turns, joints } = form.wrist;
  const n = chain.count;
  const kx = turns.centre[0];
  const ky = turns.centre[1];
  const kz = turns.centre[2];
  const { position } = goal;
  for (let i = 0; i < chosen.length; i++) room.q[chosen[i]] = q[chosen[i]];
  const found = solveArm(
    room,
    arm,
    base,
    position[0] + m[0] * kx + m[1] * ky + m[2] * kz,
    position[1] + m[3] * kx + m[4] * ky + m[5] * kz,
    position[2] + m[6] * kx + m[7] * ky + m[8] * kz,
    nearest,
  );
  const slack = nearest ? Infinity : form.slack;
  let count = 0;
  for (let k = 0; k < found; k++) {
    const lone = placed(form, q, arm.lone, room.solutions[3 * k], slack);
    const first = placed(form, q, arm.first, room.solutions[3 * k + 1], slack);
    const second = placed(form, q, arm.second, room.solutions[3 * k + 2], slack);
    if (Number.isNaN(lone + first + second)) continue;
    room.q[arm.lone] = lone;
    room.q[arm.first] = first;
    room.q[arm.second] = second;
    if (!turnWrist(form, base, slack)) continue;
    for (let way = 0; way < 2; way++) {
      const at = n * count;
      let fits = true;
      for (let i = 0; i < n; i++) candidates[at + i] = room.q[i];
      for (let i = 0; i < joints.length && fits; i++) {
        const value = placed(form, q, joints[i], turns.solutions[3 * way + i], slack);
        candidates[at + joints[i]] = value;
        fits = !Number.isNaN(value);
      }
      if (!fits) continue;
      count += 1;
      if (count === most) return count;
    }
  }
  return count;
}

/** Turns of the wrist on an arm that stands as `room.q` says. */
function turnWrist(
  { room, wrist, wanted: m, sight, difference: d }: ReachForm,
  base: BaseFrame,
  slack: number,
): boolean {
  const turns = wrist.form;
  fillFollowers(room.chain, room.q);
  forward(room.chain, base, room.q, room.pose);
  const h = room.pose.mountRotation;
  const { mount } = turns;
  if (turns.size === 2) {
    // The sight in the wrist's frame, and the way to the target in it.
    const x = sight[0];
    const y = sight[1];
    const z = sight[2];
    const lx = m[0] * x + m[1] * y + m[2] * z;
    const ly = m[3] * x + m[4] * y + m[5] * z;
    const lz = m[6] * x + m[7] * y + m[8] * z;
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

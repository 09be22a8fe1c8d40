import { nearestTurn, turnWithin } from "../base/angle.ts";
import { solveDense } from "../base/linear.ts";
import { aimStarts } from "./aim-start.ts";
import type { BaseFrame, Chain } from "./chain.ts";
import type { SolveStatus } from "./solve-status.ts";
import {
  createViewBuffer,
  equationCount,
  evaluateView,
  isUpright,
  prepareView,
  type View,
  type ViewBuffer,
} from "./view.ts";

/** Error of the line of sight that counts as solved, in widths of the picture. */
export const AIM_TOLERANCE = 1e-10;
/** How far outside its range a solved axis may round to [rad or m]. */
export const RANGE_SLACK = 1e-9;
/** A pupil nearer than this to the target has no line of sight [m]. */
const TARGET_AT_PUPIL = 1e-9;
const ROUNDS = 60;

/** One way to aim. */
export interface AimSolution {
  readonly status: SolveStatus;
  /** Why it is not converged. */
  readonly reason?: "target-at-pupil" | "no-line-of-sight";
  /** Values of the aim axes, in their order [rad]; whole turns taken so that ranges hold where they can, nearest to `near`. */
  readonly values: readonly number[];
  /** Error left, in widths of the picture. */
  readonly error: number;
  /** Positions in `axes` whose value lies outside the axis's range. */
  readonly outside: readonly number[];
  /** Angle between the sight and the outermost aim axis, 0..pi/2 [rad]: near 0 the axis must turn fast or has no say. */
  readonly poleAngle: number;
}

/** Room for solving aims of one chain. */
export interface AimBuffer {
  readonly view: ViewBuffer;
  readonly q: Float64Array;
  readonly matrix: Float64Array;
  readonly step: Float64Array;
  readonly before: Float64Array;
}

export function createAimBuffer(chain: Chain): AimBuffer {
  return {
    view: createViewBuffer(chain),
    q: new Float64Array(chain.count),
    matrix: new Float64Array(9),
    step: new Float64Array(3),
    before: new Float64Array(3),
  };
}

/**
 * All ways to put the target on the sight with the aim axes, the other joints keeping their values: both branches of a
 * pan and tilt, solved to `AIM_TOLERANCE`.
 *
 * @param axes Joint indices, from `aimPlan`.
 * @param q    Shape (n,); not changed.
 * @param near Wished values of the aim axes, in their order: whole turns and the order of the answers follow them.
 * @returns Best first: converged before not, inside all ranges before outside, then nearest to `near`. Never empty, never NaN.
 */
export function solveAim(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  axes: readonly number[],
  view: View,
  near: readonly number[],
): AimSolution[] {
  const buffer = createAimBuffer(chain);
  const starts = aimStarts(chain, base, q, axes, view);
  const found: AimSolution[] = [];
  const consider = (start: readonly number[]): void => {
    buffer.q.set(q);
    axes.forEach((joint, k) => (buffer.q[joint] = start[k]));
    const solution = describe(
      chain,
      base,
      axes,
      view,
      near,
      refineAim(chain, base, buffer.q, axes, view, buffer),
      buffer,
    );
    if (!found.some((other) => sameValues(other.values, solution.values))) found.push(solution);
  };
  starts.forEach(consider);
  // At the pole the outermost axis has no say: from the wished values Newton's method keeps it there.
  if (found.every((solution) => solution.status !== "converged") || found.some((one) => one.poleAngle < 1e-3)) {
    consider(near);
  }
  if (found.every((solution) => solution.status !== "converged")) gridStarts(axes.length).forEach(consider);
  return found.sort((a, b) => rank(a) - rank(b) || distanceTo(a.values, near) - distanceTo(b.values, near));
}

/**
 * Newton's method on the line of sight (and horizon) from the values in `q`, shortened or damped where a full step does
 * not come nearer. Changes the aim axes of `q` and fills its followers. Allocates nothing; on return
 * `buffer.view` holds the pose at `q`.
 */
export function refineAim(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  axes: readonly number[],
  view: View,
  buffer: AimBuffer,
): SolveStatus {
  const { view: room, step, before } = buffer;
  const n = axes.length;
  prepareView(view, room);
  let facing = evaluateView(chain, base, q, view, room, 1);
  let cost = costOf(room, facing, view);
  let damping = 0;
  let settled = false;
  for (let round = 0; round < ROUNDS; round++) {
    if (!(TARGET_AT_PUPIL < room.distance)) return "stalled";
    // One step more after the tolerance is met costs little and leaves rounding only.
    if (settled || cost < 1e-30) return isSolved(room, facing, view) ? "converged" : "stalled";
    settled = isSolved(room, facing, view);
    for (let k = 0; k < n; k++) before[k] = q[axes[k]];
    let better = false;
    for (let attempt = 0; attempt < 12 && !better; attempt++) {
      if (!solveStep(room, axes, equationCount(view), damping, buffer)) {
        damping = Math.max(4 * damping, 1e-9);
        continue;
      }
      for (let k = 0; k < n; k++) q[axes[k]] = before[k] - Math.min(1, Math.max(-1, step[k]));
      const nextFacing = evaluateView(chain, base, q, view, room, 1);
      const next = costOf(room, nextFacing, view);
      better = next < cost;
      if (better) {
        cost = next;
        facing = nextFacing;
        damping = damping < 1e-12 ? 0 : damping / 8;
      } else damping = Math.max(8 * damping, 1e-8);
      if (!better) for (let k = 0; k < n; k++) q[axes[k]] = before[k];
      if (!better) evaluateView(chain, base, q, view, room, 1);
    }
    if (!better) return isSolved(room, facing, view) ? "converged" : "stalled";
  }
  return isSolved(room, facing, view) ? "converged" : "iteration-cap";
}

/** Error of the line of sight in widths of the picture, at the pose that `room` holds; Infinity on the wrong side. */
export function aimError(room: ViewBuffer, facing: number, view: View): number {
  if (!(0 < facing)) return Infinity;
  const [x, y, z] = view.sight;
  // An angle counts for more picture towards the edge: d tan = (1 + tan²) d angle.
  return (Math.hypot(room.miss[0], room.miss[1]) / facing) * (x * x + y * y + z * z) * view.widths;
}

function isSolved(room: ViewBuffer, facing: number, view: View): boolean {
  if (!(aimError(room, facing, view) <= AIM_TOLERANCE)) return false;
  return view.rule.kind === "axis" || (Math.abs(room.miss[2]) <= AIM_TOLERANCE && isUpright(view, room));
}

/** Grows all the way round, so that looking the other way is no minimum: |g - s|² rather than |sin|². */
function costOf(room: ViewBuffer, facing: number, view: View): number {
  const m = room.miss;
  const sight = 0 < facing ? m[0] * m[0] + m[1] * m[1] : 2 - 2 * facing;
  const horizon = view.rule.kind === "axis" ? 0 : m[2] * m[2] + (isUpright(view, room) ? 0 : 1);
  return sight + horizon;
}

/** Newton's step, or the damped least-squares step when `damping` is above 0, into `buffer.step`. */
function solveStep(
  room: ViewBuffer,
  axes: readonly number[],
  equations: number,
  damping: number,
  buffer: AimBuffer,
): boolean {
  const { matrix, step } = buffer;
  const { slope, miss } = room;
  const n = axes.length;
  if (damping === 0 && n === equations) {
    for (let row = 0; row < n; row++) {
      for (let k = 0; k < n; k++) matrix[row * n + k] = slope[3 * axes[k] + row];
      step[row] = miss[row];
    }
    return 1e-13 < solveDense(matrix, step, n);
  }
  let largest = 0;
  for (let i = 0; i < n; i++) {
    const a = 3 * axes[i];
    step[i] = 0;
    for (let row = 0; row < equations; row++) step[i] += slope[a + row] * miss[row];
    for (let j = 0; j < n; j++) {
      const b = 3 * axes[j];
      let sum = 0;
      for (let row = 0; row < equations; row++) sum += slope[a + row] * slope[b + row];
      matrix[i * n + j] = sum;
    }
    largest = Math.max(largest, matrix[i * n + i]);
  }
  for (let i = 0; i < n; i++) matrix[i * n + i] += Math.max(damping, 1e-14) * largest;
  return 0 < solveDense(matrix, step, n);
}

function describe(
  chain: Chain,
  base: BaseFrame,
  axes: readonly number[],
  view: View,
  near: readonly number[],
  status: SolveStatus,
  buffer: AimBuffer,
): AimSolution {
  const room = buffer.view;
  const facing = evaluateView(chain, base, buffer.q, view, room, 1);
  const error = aimError(room, facing, view);
  const outside: number[] = [];
  const values = axes.map((joint, k) => {
    const range = chain.rig.joints[joint].range;
    const value = buffer.q[joint];
    const wished = near[k];
    if (!range) return nearestTurn(value, wished);
    const inside = turnWithin(value, wished, range.low, range.high, RANGE_SLACK);
    if (inside === undefined) outside.push(k);
    return inside ?? nearestTurn(value, Math.min(range.high, Math.max(range.low, wished)));
  });
  const atPupil = !(TARGET_AT_PUPIL < room.distance);
  const reason = status === "converged" ? undefined : atPupil ? "target-at-pupil" : "no-line-of-sight";
  return {
    status,
    reason,
    values,
    error: Number.isNaN(error) ? Infinity : error,
    outside,
    poleAngle: poleAngle(axes, room, view),
  };
}

function poleAngle(axes: readonly number[], room: ViewBuffer, view: View): number {
  if (axes.length === 0 || !(TARGET_AT_PUPIL < room.distance)) return Math.PI / 2;
  const k = 6 * Math.min(...axes);
  const [wx, wy, wz] = [room.columns[k + 3], room.columns[k + 4], room.columns[k + 5]];
  const [lx, ly, lz] = [0, 1, 2].map((i) => (view.target[i] - room.pupil[i]) / room.distance);
  const sine = Math.hypot(wy * lz - wz * ly, wz * lx - wx * lz, wx * ly - wy * lx);
  return Math.atan2(sine, Math.abs(wx * lx + wy * ly + wz * lz));
}

function gridStarts(n: number): number[][] {
  const turns = n < 3 ? 8 : 6;
  const starts: number[][] = [];
  for (let i = 0; i < turns ** n; i++) {
    starts.push(
      Array.from({ length: n }, (_, k) => ((Math.floor(i / turns ** k) % turns) * 2 * Math.PI) / turns - Math.PI),
    );
  }
  return starts;
}

function rank(solution: AimSolution): number {
  return (solution.status === "converged" ? 0 : 2) + (solution.outside.length === 0 ? 0 : 1);
}

function distanceTo(values: readonly number[], near: readonly number[]): number {
  return values.reduce((sum, value, k) => sum + Math.abs(value - near[k]), 0);
}

function sameValues(a: readonly number[], b: readonly number[]): boolean {
  return a.every((value, k) => Math.abs(nearestTurn(value, b[k]) - b[k]) < 1e-7);
}

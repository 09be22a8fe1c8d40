import { matrixFromQuat, type Quat } from "../base/quat.ts";
import { normalise, type Vec3 } from "../base/vec3.ts";
import type { RollRule } from "./aim-axes.ts";
import {
  createPoseBuffer,
  fillFollowers,
  forward,
  pupilPosition,
  type BaseFrame,
  type Chain,
  type PoseBuffer,
} from "./chain.ts";
import { jacobian } from "./jacobian.ts";

/** Which way the camera is to look: at a target on a sight, held about the view by a rule; turned just so; or any way. */
export type ReachOrientation =
  | {
      readonly kind: "view";
      /** Point in the set [m]. */
      readonly target: Vec3;
      /** Where it is to be seen: (1, Y/X, Z/X) in the camera frame. */
      readonly sight: Vec3;
      readonly rule: RollRule;
    }
  | { readonly kind: "turn"; /** Camera to set. */ readonly turn: Quat }
  | { readonly kind: "free" };

/** Where the camera is to be. */
export interface ReachGoal {
  /** Entrance pupil in the set [m]. */
  readonly position: Vec3;
  /** Entrance pupil in front of the flange [m]. */
  readonly pupil: number;
  readonly orientation: ReachOrientation;
}

/** Room for the equations of one goal at one pose: 3 of the position, then 2 or 3 of the orientation, or none. */
export interface ReachEquations {
  rows: 3 | 5 | 6;
  /** Shape (rows,): position error [m], then angles [rad]. 0 when reached. */
  readonly miss: Float64Array;
  /** Shape (6 n,): derivatives of `miss` per unit of joint i from 6 i. */
  readonly slope: Float64Array;
  readonly pose: PoseBuffer;
  readonly pupil: Float64Array;
  readonly columns: Float64Array;
  /** Unit sight and two unit vectors square to it, in the camera frame, (9,); or the wanted rotation, row-major. */
  readonly frame: Float64Array;
}

export function createReachEquations(chain: Chain): ReachEquations {
  return {
    rows: 6,
    miss: new Float64Array(6),
    slope: new Float64Array(6 * chain.count),
    pose: createPoseBuffer(chain),
    pupil: new Float64Array(3),
    columns: new Float64Array(6 * chain.count),
    frame: new Float64Array(9),
  };
}

/** Takes up a goal: once for it, before `evaluateReach`. */
export function prepareReach({ orientation }: ReachGoal, out: ReachEquations): void {
  const { frame } = out;
  out.rows = rowsOf(orientation);
  // What is not written holds nothing of an earlier goal.
  out.miss.fill(0, out.rows);
  for (let row = out.rows; row < 6; row++) for (let k = row; k < out.slope.length; k += 6) out.slope[k] = 0;
  if (orientation.kind === "free") return;
  if (orientation.kind === "turn") {
    matrixFromQuat(orientation.turn, frame);
    return;
  }
  const [x, y, z] = normalise(orientation.sight) ?? [1, 0, 0];
  const flat = Math.sqrt(x * x + y * y);
  frame[0] = x;
  frame[1] = y;
  frame[2] = z;
  frame[3] = -y / flat;
  frame[4] = x / flat;
  frame[5] = 0;
  frame[6] = (-x * z) / flat;
  frame[7] = (-y * z) / flat;
  frame[8] = flat;
}

/** How many equations a goal has: a line of sight leaves the turn about itself free, a place alone every turn. */
export function rowsOf(orientation: ReachOrientation): 3 | 5 | 6 {
  if (orientation.kind === "free") return 3;
  return orientation.kind === "view" && orientation.rule.kind === "axis" ? 5 : 6;
}

/** Poses the rig at `q` (filling its followers) and writes misses and slopes. Allocates nothing. */
export function evaluateReach(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  goal: ReachGoal,
  out: ReachEquations,
): void {
  const { pose, pupil, columns, miss, slope } = out;
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  pupilPosition(pose, goal.pupil, pupil);
  miss[0] = pupil[0] - goal.position[0];
  miss[1] = pupil[1] - goal.position[1];
  miss[2] = pupil[2] - goal.position[2];
  if (goal.orientation.kind === "turn") {
    // The slope of the rotation vector is the angular velocity, near the goal.
    jacobian(chain, pose, pupil, slope);
    writeTurn(out);
    return;
  }
  jacobian(chain, pose, pupil, columns);
  for (let i = 0; i < 6 * chain.count; i += 6) {
    slope[i] = columns[i];
    slope[i + 1] = columns[i + 1];
    slope[i + 2] = columns[i + 2];
  }
  if (goal.orientation.kind === "view") writeView(chain, goal.orientation, out);
}

/** Rotation vector from the wanted orientation to the present one: axis and angle of E = M · W'. */
function writeTurn({ frame: w, miss, pose }: ReachEquations): void {
  const m = pose.mountRotation;
  const x = (dotRows(m, 6, w, 3) - dotRows(m, 3, w, 6)) / 2;
  const y = (dotRows(m, 0, w, 6) - dotRows(m, 6, w, 0)) / 2;
  const z = (dotRows(m, 3, w, 0) - dotRows(m, 0, w, 3)) / 2;
  const sine = Math.sqrt(x * x + y * y + z * z);
  const cosine = (dotRows(m, 0, w, 0) + dotRows(m, 3, w, 3) + dotRows(m, 6, w, 6) - 1) / 2;
  if (cosine < 0 && sine < 1e-7) {
    writeHalfTurn(m, w, miss);
    return;
  }
  // For small angles the arcus is its series, to rounding.
  const square = sine * sine;
  const factor =
    0 < cosine && square < 1e-5 ? 1 + square * (1 / 6 + square * (3 / 40)) : Math.atan2(sine, cosine) / sine;
  miss[3] = factor * x;
  miss[4] = factor * y;
  miss[5] = factor * z;
}

/** At half a turn E + 1 is twice the square of the axis: its longest column lies along it. */
function writeHalfTurn(m: Float64Array, w: Float64Array, miss: Float64Array): void {
  let longest = 0;
  for (let c = 0; c < 9; c += 3) {
    const square = dotRows(m, c, w, c) + 1;
    if (square <= longest) continue;
    longest = square;
    for (let r = 0; r < 3; r++) miss[3 + r] = dotRows(m, 3 * r, w, c) + (3 * r === c ? 1 : 0);
  }
  const factor = Math.PI / Math.sqrt(miss[3] * miss[3] + miss[4] * miss[4] + miss[5] * miss[5]);
  for (let r = 3; r < 6; r++) miss[r] *= factor;
}

function dotRows(a: Float64Array, i: number, b: Float64Array, j: number): number {
  return a[i] * b[j] + a[i + 1] * b[j + 1] + a[i + 2] * b[j + 2];
}

/**
 * With g the unit vector to the target in the camera frame and c = s·g, the miss is f·(b1·g, b2·g), f = angle / sine, so
 * that its length is the whole angle from the sight, up to a half turn: looking away is no solution.
 */
function writeView(chain: Chain, orientation: ReachOrientation & { kind: "view" }, out: ReachEquations): void {
  const { frame: b, miss, slope, columns, pupil } = out;
  const m = out.pose.mountRotation;
  const { target, rule } = orientation;
  const lx = target[0] - pupil[0];
  const ly = target[1] - pupil[1];
  const lz = target[2] - pupil[2];
  const distance = Math.max(Math.sqrt(lx * lx + ly * ly + lz * lz), 1e-12);
  const gx = (m[0] * lx + m[3] * ly + m[6] * lz) / distance;
  const gy = (m[1] * lx + m[4] * ly + m[7] * lz) / distance;
  const gz = (m[2] * lx + m[5] * ly + m[8] * lz) / distance;
  const c = b[0] * gx + b[1] * gy + b[2] * gz;
  const u = b[3] * gx + b[4] * gy + b[5] * gz;
  const v = b[6] * gx + b[7] * gy + b[8] * gz;
  const sine = Math.sqrt(u * u + v * v);
  const angle = Math.atan2(sine, c);
  const small = sine < 1e-9;
  const factor = small ? 1 : angle / sine;
  // df/dc = -(sine - angle·c) / sine³, 0 to first order at the sight.
  const bend = sine < 1e-4 ? -1 / 3 : -(sine - angle * c) / (sine * sine * sine);
  miss[3] = small && c < 0 ? Math.PI : factor * u;
  miss[4] = factor * v;
  for (let i = 0; i < 6 * chain.count; i += 6) {
    const wx = columns[i + 3];
    const wy = columns[i + 4];
    const wz = columns[i + 5];
    const ex = -(columns[i] + wy * lz - wz * ly) / distance;
    const ey = -(columns[i + 1] + wz * lx - wx * lz) / distance;
    const ez = -(columns[i + 2] + wx * ly - wy * lx) / distance;
    let dx = m[0] * ex + m[3] * ey + m[6] * ez;
    let dy = m[1] * ex + m[4] * ey + m[7] * ez;
    let dz = m[2] * ex + m[5] * ey + m[8] * ez;
    const along = dx * gx + dy * gy + dz * gz;
    dx -= along * gx;
    dy -= along * gy;
    dz -= along * gz;
    const dc = bend * (b[0] * dx + b[1] * dy + b[2] * dz);
    slope[i + 3] = factor * (b[3] * dx + b[4] * dy + b[5] * dz) + dc * u;
    slope[i + 4] = factor * (b[6] * dx + b[7] * dy + b[8] * dz) + dc * v;
  }
  if (rule.kind === "horizon") writeHorizon(chain, rule, out);
}

/**
 * Lean from the horizon, times the sine of the angle between view and up, which keeps it smooth near the pole: with
 * p = left·up, t = top·up of the camera rolled back by the rule's angle, miss = |(p, t)| · atan2(p, t).
 */
function writeHorizon(chain: Chain, rule: RollRule & { kind: "horizon" }, out: ReachEquations): void {
  const { miss, slope, columns } = out;
  const m = out.pose.mountRotation;
  const [ux, uy, uz] = rule.up;
  const hc = Math.cos(rule.angle);
  const hs = Math.sin(rule.angle);
  const ax = hc * m[1] - hs * m[2];
  const ay = hc * m[4] - hs * m[5];
  const az = hc * m[7] - hs * m[8];
  const bx = hs * m[1] + hc * m[2];
  const by = hs * m[4] + hc * m[5];
  const bz = hs * m[7] + hc * m[8];
  const p = ax * ux + ay * uy + az * uz;
  const t = bx * ux + by * uy + bz * uz;
  const size = Math.max(Math.sqrt(p * p + t * t), 1e-12);
  const lean = Math.atan2(p, t);
  miss[5] = size * lean;
  for (let i = 0; i < 6 * chain.count; i += 6) {
    const wx = columns[i + 3];
    const wy = columns[i + 4];
    const wz = columns[i + 5];
    const dp = (wy * az - wz * ay) * ux + (wz * ax - wx * az) * uy + (wx * ay - wy * ax) * uz;
    const dt = (wy * bz - wz * by) * ux + (wz * bx - wx * bz) * uy + (wx * by - wy * bx) * uz;
    slope[i + 5] = (dp * t - dt * p + lean * (p * dp + t * dt)) / size;
  }
}

import type { Vec3 } from "../base/vec3.ts";
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

/** What the camera is to see: a point of the set in a direction of the camera frame. */
export interface View {
  /** Point in the set [m]. */
  readonly target: Vec3;
  /** Where it is to be seen: (1, Y/X, Z/X) in the camera frame, as `unproject` gives it for a framing. */
  readonly sight: Vec3;
  /** Entrance pupil in front of the flange [m]. */
  readonly pupil: number;
  /** Picture widths a unit of Y/X: focal / (squeeze · width). Measures errors of the aim. */
  readonly widths: number;
  readonly rule: RollRule;
}

/** Room for the equations of a view at one pose. */
export interface ViewBuffer {
  readonly pose: PoseBuffer;
  /** Entrance pupil in the set, shape (3,) [m]. */
  readonly pupil: Float64Array;
  /** Jacobian of the pupil, shape (6 n,), as `jacobian` writes it. */
  readonly columns: Float64Array;
  /** Misses: two of the line of sight, and the horizon's where the rule has one [rad near zero], shape (3,). */
  readonly miss: Float64Array;
  /** Derivatives of the misses per unit of each joint, shape (3 n,), three numbers a joint. */
  readonly slope: Float64Array;
  /** Two unit vectors square to the sight and to each other, in the camera frame, and the unit sight itself, shape (9,). */
  readonly basis: Float64Array;
  /** From pupil to target [m]. */
  distance: number;
}

export function createViewBuffer(chain: Chain): ViewBuffer {
  return {
    pose: createPoseBuffer(chain),
    pupil: new Float64Array(3),
    columns: new Float64Array(6 * chain.count),
    miss: new Float64Array(3),
    slope: new Float64Array(3 * chain.count),
    basis: new Float64Array(9),
    distance: NaN,
  };
}

/** How many equations a view has. */
export function equationCount(view: View): 2 | 3 {
  return view.rule.kind === "horizon" ? 3 : 2;
}

/** Fills `basis` for a view: once for a view, before `evaluateView`. */
export function prepareView(view: View, buffer: ViewBuffer): void {
  const [x, y, z] = view.sight;
  const size = Math.hypot(x, y, z);
  const flat = Math.hypot(x, y);
  // The sight looks forward (x > 0), so it is never along z.
  buffer.basis.set([-y / flat, x / flat, 0], 0);
  buffer.basis.set([(-x * z) / (flat * size), (-y * z) / (flat * size), flat / size], 3);
  buffer.basis.set([x / size, y / size, z / size], 6);
}

/**
 * Equations of a view at joint values `q`: poses the rig, writes pupil, misses and, on request, their slopes.
 * With g the unit vector to the target in the camera frame and b1, b2 square to the sight s, the misses are b1·g, b2·g
 * (so 0 when g = s or g = -s), and for a horizon rule the sine of the camera's lean from it. Allocates nothing.
 *
 * @param q Shape (n,); followers are filled here.
 * @returns How the target lies to the wanted sight: g·s. 1 when seen there, negative on the wrong side, NaN at the pupil.
 */
export function evaluateView(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  view: View,
  buffer: ViewBuffer,
  order: 0 | 1,
): number {
  const { pose, pupil, basis, miss } = buffer;
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  pupilPosition(pose, view.pupil, pupil);
  const m = pose.mountRotation;
  const lx = view.target[0] - pupil[0];
  const ly = view.target[1] - pupil[1];
  const lz = view.target[2] - pupil[2];
  const distance = Math.sqrt(lx * lx + ly * ly + lz * lz);
  buffer.distance = distance;
  const gx = (m[0] * lx + m[3] * ly + m[6] * lz) / distance;
  const gy = (m[1] * lx + m[4] * ly + m[7] * lz) / distance;
  const gz = (m[2] * lx + m[5] * ly + m[8] * lz) / distance;
  miss[0] = basis[0] * gx + basis[1] * gy + basis[2] * gz;
  miss[1] = basis[3] * gx + basis[4] * gy + basis[5] * gz;
  miss[2] = 0;
  if (view.rule.kind === "horizon") {
    const { up, angle } = view.rule;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    miss[2] = (c * m[1] - s * m[2]) * up[0] + (c * m[4] - s * m[5]) * up[1] + (c * m[7] - s * m[8]) * up[2];
  }
  if (order === 1) writeSlopes(chain, view, buffer, gx, gy, gz);
  return basis[6] * gx + basis[7] * gy + basis[8] * gz;
}

/** False when the camera hangs upside down from the horizon that the rule asks for, at the pose that `buffer` holds. */
export function isUpright(view: View, buffer: ViewBuffer): boolean {
  if (view.rule.kind === "axis") return true;
  const { up, angle } = view.rule;
  const m = buffer.pose.mountRotation;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return 0 < (s * m[1] + c * m[2]) * up[0] + (s * m[4] + c * m[5]) * up[1] + (s * m[7] + c * m[8]) * up[2];
}

/** dg = -(v + w × l)/distance seen from the camera, less its part along g. */
function writeSlopes(chain: Chain, view: View, buffer: ViewBuffer, gx: number, gy: number, gz: number): void {
  const { pose, columns, basis, slope, pupil, distance } = buffer;
  const m = pose.mountRotation;
  jacobian(chain, pose, pupil, columns);
  const lx = view.target[0] - pupil[0];
  const ly = view.target[1] - pupil[1];
  const lz = view.target[2] - pupil[2];
  const horizon = view.rule.kind === "horizon" ? view.rule : undefined;
  const hc = horizon ? Math.cos(horizon.angle) : 0;
  const hs = horizon ? Math.sin(horizon.angle) : 0;
  for (let i = 0; i < chain.count; i++) {
    const k = 6 * i;
    const wx = columns[k + 3];
    const wy = columns[k + 4];
    const wz = columns[k + 5];
    const ex = -(columns[k] + wy * lz - wz * ly) / distance;
    const ey = -(columns[k + 1] + wz * lx - wx * lz) / distance;
    const ez = -(columns[k + 2] + wx * ly - wy * lx) / distance;
    let dx = m[0] * ex + m[3] * ey + m[6] * ez;
    let dy = m[1] * ex + m[4] * ey + m[7] * ez;
    let dz = m[2] * ex + m[5] * ey + m[8] * ez;
    const along = dx * gx + dy * gy + dz * gz;
    dx -= along * gx;
    dy -= along * gy;
    dz -= along * gz;
    slope[3 * i] = basis[0] * dx + basis[1] * dy + basis[2] * dz;
    slope[3 * i + 1] = basis[3] * dx + basis[4] * dy + basis[5] * dz;
    slope[3 * i + 2] = 0;
    if (horizon) {
      // The camera's level direction h turns with w: (w × h) · up.
      const hx = hc * m[1] - hs * m[2];
      const hy = hc * m[4] - hs * m[5];
      const hz = hc * m[7] - hs * m[8];
      const { up } = horizon;
      slope[3 * i + 2] = (wy * hz - wz * hy) * up[0] + (wz * hx - wx * hz) * up[1] + (wx * hy - wy * hx) * up[2];
    }
  }
}

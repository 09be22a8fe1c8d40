import type { Vec3 } from "./vec3.ts";

/** A unit quaternion [x, y, z, w] that takes vectors of the inner frame to the outer frame. */
export type Quat = readonly [number, number, number, number];

export const IDENTITY_QUAT: Quat = [0, 0, 0, 1];

/** The turn that does `b` first and then `a`. */
export function multiplyQuats(a: Quat, b: Quat): Quat {
  return [
    a[3] * b[0] + a[0] * b[3] + a[1] * b[2] - a[2] * b[1],
    a[3] * b[1] - a[0] * b[2] + a[1] * b[3] + a[2] * b[0],
    a[3] * b[2] + a[0] * b[1] - a[1] * b[0] + a[2] * b[3],
    a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
  ];
}

/** The turn back. */
export function invertQuat(q: Quat): Quat {
  return [-q[0], -q[1], -q[2], q[3]];
}

/** v' = v + 2w (u × v) + 2 u × (u × v), u the vector part. */
export function rotateByQuat(q: Quat, v: Vec3): Vec3 {
  const tx = 2 * (q[1] * v[2] - q[2] * v[1]);
  const ty = 2 * (q[2] * v[0] - q[0] * v[2]);
  const tz = 2 * (q[0] * v[1] - q[1] * v[0]);
  return [
    v[0] + q[3] * tx + q[1] * tz - q[2] * ty,
    v[1] + q[3] * ty + q[2] * tx - q[0] * tz,
    v[2] + q[3] * tz + q[0] * ty - q[1] * tx,
  ];
}

/** Right-hand turn by `angle` [rad] about the unit vector `along`. */
export function quatAbout(along: Vec3, angle: number): Quat {
  const s = Math.sin(angle / 2);
  return [along[0] * s, along[1] * s, along[2] * s, Math.cos(angle / 2)];
}

/** Fixed-axis roll, pitch, yaw [rad]: R = Rz(yaw) · Ry(pitch) · Rx(roll). */
export function quatFromRollPitchYaw(roll: number, pitch: number, yaw: number): Quat {
  const turned = multiplyQuats(quatAbout([0, 1, 0], pitch), quatAbout([1, 0, 0], roll));
  return multiplyQuats(quatAbout([0, 0, 1], yaw), turned);
}

/** Writes the rotation matrix of `q`, row-major, into `out[at .. at + 9)`. */
export function matrixFromQuat(q: Quat, out: Float64Array, at = 0): void {
  const [x, y, z, w] = q;
  out[at] = 1 - 2 * (y * y + z * z);
  out[at + 1] = 2 * (x * y - w * z);
  out[at + 2] = 2 * (x * z + w * y);
  out[at + 3] = 2 * (x * y + w * z);
  out[at + 4] = 1 - 2 * (x * x + z * z);
  out[at + 5] = 2 * (y * z - w * x);
  out[at + 6] = 2 * (x * z - w * y);
  out[at + 7] = 2 * (y * z + w * x);
  out[at + 8] = 1 - 2 * (x * x + y * y);
}

/**
 * Quaternion of the row-major rotation matrix in `m[at .. at + 9)`, w >= 0. Divides by its largest component, so it is
 * exact to rounding for every rotation, half turns included.
 */
export function quatFromMatrix(m: ArrayLike<number>, at = 0): Quat {
  const [m00, m01, m02] = [m[at], m[at + 1], m[at + 2]];
  const [m10, m11, m12] = [m[at + 3], m[at + 4], m[at + 5]];
  const [m20, m21, m22] = [m[at + 6], m[at + 7], m[at + 8]];
  const trace = m00 + m11 + m22;
  let q: Quat;
  if (0 < trace) {
    const d = 2 * Math.sqrt(1 + trace);
    q = [(m21 - m12) / d, (m02 - m20) / d, (m10 - m01) / d, d / 4];
  } else if (m11 <= m00 && m22 <= m00) {
    const d = 2 * Math.sqrt(1 + m00 - m11 - m22);
    q = [d / 4, (m01 + m10) / d, (m02 + m20) / d, (m21 - m12) / d];
  } else if (m22 <= m11) {
    const d = 2 * Math.sqrt(1 + m11 - m00 - m22);
    q = [(m01 + m10) / d, d / 4, (m12 + m21) / d, (m02 - m20) / d];
  } else {
    const d = 2 * Math.sqrt(1 + m22 - m00 - m11);
    q = [(m02 + m20) / d, (m12 + m21) / d, d / 4, (m10 - m01) / d];
  }
  const size = (q[3] < 0 ? -1 : 1) * Math.hypot(q[0], q[1], q[2], q[3]);
  return [q[0] / size, q[1] / size, q[2] / size, q[3] / size];
}

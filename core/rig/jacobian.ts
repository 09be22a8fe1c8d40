import { FIXED, LINEAR, type Chain, type PoseBuffer } from "./chain.ts";

/**
 * Geometric Jacobian of a point that moves with the last link, in the frame that `pose` was computed in.
 * Column i (six numbers from 6 i): velocity of the point [m per unit], then angular velocity [rad per unit], per unit of
 * joint i (m or rad). What follows an axis is in that axis's column; columns of followers and fixed joints are zero.
 *
 * @param pose  From `forward` at the same joint values.
 * @param point Shape (3,), usually the entrance pupil (`pupilPosition`) [m].
 * @param out   Shape (6 n,), n joints; wholly overwritten. Allocates nothing.
 */
export function jacobian(chain: Chain, pose: PoseBuffer, point: Float64Array, out: Float64Array): void {
  const { count, kind, along, root, rootRatio } = chain;
  const { rotations, positions } = pose;
  for (let k = 0; k < 6 * count; k++) out[k] = 0;
  for (let i = 0; i < count; i++) {
    if (kind[i] === FIXED) continue;
    const i3 = 3 * i;
    const i9 = 9 * i;
    const column = 6 * root[i];
    const ratio = rootRatio[i];
    const ax = along[i3];
    const ay = along[i3 + 1];
    const az = along[i3 + 2];
    // A joint's own motion leaves its direction alone, so the link frame after it serves.
    const wx = ratio * (rotations[i9] * ax + rotations[i9 + 1] * ay + rotations[i9 + 2] * az);
    const wy = ratio * (rotations[i9 + 3] * ax + rotations[i9 + 4] * ay + rotations[i9 + 5] * az);
    const wz = ratio * (rotations[i9 + 6] * ax + rotations[i9 + 7] * ay + rotations[i9 + 8] * az);
    if (kind[i] === LINEAR) {
      out[column] += wx;
      out[column + 1] += wy;
      out[column + 2] += wz;
      continue;
    }
    const rx = point[0] - positions[i3];
    const ry = point[1] - positions[i3 + 1];
    const rz = point[2] - positions[i3 + 2];
    out[column] += wy * rz - wz * ry;
    out[column + 1] += wz * rx - wx * rz;
    out[column + 2] += wx * ry - wy * rx;
    out[column + 3] += wx;
    out[column + 4] += wy;
    out[column + 5] += wz;
  }
}

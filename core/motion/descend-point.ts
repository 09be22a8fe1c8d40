import type { JointRoom, MovingChain } from "./moving-chain.ts";
import { ROOM } from "./series.ts";

/**
 * Takes one point down steps 0..`to` - 1 of a chain, orders 0 to 3, in place, and leaves the joints' values, sines and
 * cosines in `joints`. Series products are written out: this is the innermost loop of sampling.
 *
 * @param axes  Series of the axes, shape (axes, ROOM).
 * @param point Shape (3, ROOM) [m].
 * @param order 0, or 3.
 */
export function descendPoint(
  chain: MovingChain,
  joints: JointRoom,
  axes: Float64Array,
  to: number,
  point: Float64Array,
  order: number,
): void {
  const { turns, rotation: n, origin: o } = chain;
  let x0 = point[0];
  let x1 = point[1];
  let x2 = point[2];
  let x3 = point[3];
  let y0 = point[ROOM];
  let y1 = point[ROOM + 1];
  let y2 = point[ROOM + 2];
  let y3 = point[ROOM + 3];
  let z0 = point[2 * ROOM];
  let z1 = point[2 * ROOM + 1];
  let z2 = point[2 * ROOM + 2];
  let z3 = point[2 * ROOM + 3];
  for (let i = 0; i < to; i++) {
    const i9 = 9 * i;
    const i3 = 3 * i;
    const at = chain.axis[i] * ROOM;
    const ratio = chain.ratio[i];
    const q = ratio * axes[at] + chain.offset[i];
    joints.q[i] = q;
    const n0 = n[i9];
    const n1 = n[i9 + 1];
    const n2 = n[i9 + 2];
    if (turns[i] === 0) {
      x0 -= n0 * q;
      y0 -= n1 * q;
      z0 -= n2 * q;
      if (order === 0) continue;
      const q1 = ratio * axes[at + 1];
      x1 -= n0 * q1;
      y1 -= n1 * q1;
      z1 -= n2 * q1;
      const q2 = ratio * axes[at + 2];
      x2 -= n0 * q2;
      y2 -= n1 * q2;
      z2 -= n2 * q2;
      const q3 = ratio * axes[at + 3];
      x3 -= n0 * q3;
      y3 -= n1 * q3;
      z3 -= n2 * q3;
      continue;
    }
    const n3 = n[i9 + 3];
    const n4 = n[i9 + 4];
    const n5 = n[i9 + 5];
    const n6 = n[i9 + 6];
    const n7 = n[i9 + 7];
    const n8 = n[i9 + 8];
    const s0 = Math.sin(q);
    const c0 = Math.cos(q);
    joints.sin[i] = s0;
    joints.cos[i] = c0;
    const a0 = x0 - o[i3];
    const b0 = y0 - o[i3 + 1];
    const d0 = z0 - o[i3 + 2];
    const u0 = n0 * a0 + n1 * b0 + n2 * d0;
    const v0 = n3 * a0 + n4 * b0 + n5 * d0;
    z0 = n6 * a0 + n7 * b0 + n8 * d0;
    x0 = c0 * u0 + s0 * v0;
    y0 = c0 * v0 - s0 * u0;
    if (order === 0) continue;
    const q1 = ratio * axes[at + 1];
    const s1 = q1 * c0;
    const c1 = -q1 * s0;
    const u1 = n0 * x1 + n1 * y1 + n2 * z1;
    const v1 = n3 * x1 + n4 * y1 + n5 * z1;
    z1 = n6 * x1 + n7 * y1 + n8 * z1;
    x1 = c0 * u1 + c1 * u0 + s0 * v1 + s1 * v0;
    y1 = c0 * v1 + c1 * v0 - s0 * u1 - s1 * u0;
    const q2 = ratio * axes[at + 2];
    const s2 = 0.5 * q1 * c1 + q2 * c0;
    const c2 = -0.5 * q1 * s1 - q2 * s0;
    const u2 = n0 * x2 + n1 * y2 + n2 * z2;
    const v2 = n3 * x2 + n4 * y2 + n5 * z2;
    z2 = n6 * x2 + n7 * y2 + n8 * z2;
    x2 = c0 * u2 + c1 * u1 + c2 * u0 + s0 * v2 + s1 * v1 + s2 * v0;
    y2 = c0 * v2 + c1 * v1 + c2 * v0 - s0 * u2 - s1 * u1 - s2 * u0;
    const q3 = ratio * axes[at + 3];
    const s3 = (q1 * c2 + 2 * q2 * c1) / 3 + q3 * c0;
    const c3 = -(q1 * s2 + 2 * q2 * s1) / 3 - q3 * s0;
    const u3 = n0 * x3 + n1 * y3 + n2 * z3;
    const v3 = n3 * x3 + n4 * y3 + n5 * z3;
    z3 = n6 * x3 + n7 * y3 + n8 * z3;
    x3 = c0 * u3 + c1 * u2 + c2 * u1 + c3 * u0 + s0 * v3 + s1 * v2 + s2 * v1 + s3 * v0;
    y3 = c0 * v3 + c1 * v2 + c2 * v1 + c3 * v0 - s0 * u3 - s1 * u2 - s2 * u1 - s3 * u0;
  }
  point[0] = x0;
  point[1] = x1;
  point[2] = x2;
  point[3] = x3;
  point[ROOM] = y0;
  point[ROOM + 1] = y1;
  point[ROOM + 2] = y2;
  point[ROOM + 3] = y3;
  point[2 * ROOM] = z0;
  point[2 * ROOM + 1] = z1;
  point[2 * ROOM + 2] = z2;
  point[2 * ROOM + 3] = z3;
}

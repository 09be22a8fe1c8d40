/**
 * step -= W J' (J W J' + damping)⁻¹ (miss + J step), for the axes that are not held: the shortest step, measured by 1 / W,
 * that takes the misses to zero as far as the equations are straight. J W J' is as small as the equations are many,
 * however many axes there are; it is built and factored in local numbers, since in arrays this takes three times as long.
 *
 * @param slope     Derivatives of the six misses per unit of joint i from 6 i.
 * @param miss      Six misses; a goal with five equations has zeros in the sixth, here and in `slope`.
 * @param axes      Joint indices of the unknowns, shape (u,).
 * @param weights   Shape (u,): W.
 * @param held      Shape (u,): 1 for axes whose step stays as it is.
 * @param step      Shape (u,): what is added to; for a plain step 0 for the axes not held.
 * @param angle     What a radian counts for, in metres.
 * @param damping   Share of the largest diagonal, or of 1 when that is less, above 0.
 * @returns False when nothing moves or the matrix is not positive.
 */
// prettier-ignore
export function addStep(
  slope: Float64Array, miss: Float64Array, axes: Int32Array, weights: Float64Array, held: Uint8Array, step: Float64Array,
  angle: number, damping: number,
): boolean {
  let b0 = miss[0], b1 = miss[1], b2 = miss[2], b3 = angle * miss[3], b4 = angle * miss[4], b5 = angle * miss[5];
  let a00 = 0, a10 = 0, a11 = 0, a20 = 0, a21 = 0, a22 = 0, a30 = 0, a31 = 0, a32 = 0, a33 = 0;
  let a40 = 0, a41 = 0, a42 = 0, a43 = 0, a44 = 0, a50 = 0, a51 = 0, a52 = 0, a53 = 0, a54 = 0, a55 = 0;
  const count = axes.length;
  for (let k = 0; k < count; k++) {
    const at = 6 * axes[k];
    const s0 = slope[at], s1 = slope[at + 1], s2 = slope[at + 2];
    const s3 = angle * slope[at + 3], s4 = angle * slope[at + 4], s5 = angle * slope[at + 5];
    const d = step[k];
    if (d !== 0) { b0 += d * s0; b1 += d * s1; b2 += d * s2; b3 += d * s3; b4 += d * s4; b5 += d * s5; }
    if (held[k] === 1) continue;
    const w = weights[k];
    const w0 = w * s0, w1 = w * s1, w2 = w * s2, w3 = w * s3, w4 = w * s4;
    a00 += w0 * s0; a10 += w0 * s1; a20 += w0 * s2; a30 += w0 * s3; a40 += w0 * s4; a50 += w0 * s5;
    a11 += w1 * s1; a21 += w1 * s2; a31 += w1 * s3; a41 += w1 * s4; a51 += w1 * s5;
    a22 += w2 * s2; a32 += w2 * s3; a42 += w2 * s4; a52 += w2 * s5;
    a33 += w3 * s3; a43 += w3 * s4; a53 += w3 * s5;
    a44 += w4 * s4; a54 += w4 * s5;
    a55 += w * s5 * s5;
  }
  const largest = Math.max(a00, a11, a22, a33, a44, a55);
  if (!(0 < largest)) return false;
  const more = damping * Math.max(1, largest);
  // Cholesky, each diagonal kept as its inverse.
  a00 += more;
  if (!(0 < a00)) return false;
  const i0 = 1 / Math.sqrt(a00);
  a10 *= i0; a20 *= i0; a30 *= i0; a40 *= i0; a50 *= i0; b0 *= i0;
  a11 += more - a10 * a10;
  if (!(0 < a11)) return false;
  const i1 = 1 / Math.sqrt(a11);
  a21 = (a21 - a20 * a10) * i1; a31 = (a31 - a30 * a10) * i1; a41 = (a41 - a40 * a10) * i1; a51 = (a51 - a50 * a10) * i1;
  b1 = (b1 - a10 * b0) * i1;
  a22 += more - a20 * a20 - a21 * a21;
  if (!(0 < a22)) return false;
  const i2 = 1 / Math.sqrt(a22);
  a32 = (a32 - a30 * a20 - a31 * a21) * i2;
  a42 = (a42 - a40 * a20 - a41 * a21) * i2;
  a52 = (a52 - a50 * a20 - a51 * a21) * i2;
  b2 = (b2 - a20 * b0 - a21 * b1) * i2;
  a33 += more - a30 * a30 - a31 * a31 - a32 * a32;
  if (!(0 < a33)) return false;
  const i3 = 1 / Math.sqrt(a33);
  a43 = (a43 - a40 * a30 - a41 * a31 - a42 * a32) * i3;
  a53 = (a53 - a50 * a30 - a51 * a31 - a52 * a32) * i3;
  b3 = (b3 - a30 * b0 - a31 * b1 - a32 * b2) * i3;
  a44 += more - a40 * a40 - a41 * a41 - a42 * a42 - a43 * a43;
  if (!(0 < a44)) return false;
  const i4 = 1 / Math.sqrt(a44);
  a54 = (a54 - a50 * a40 - a51 * a41 - a52 * a42 - a53 * a43) * i4;
  b4 = (b4 - a40 * b0 - a41 * b1 - a42 * b2 - a43 * b3) * i4;
  a55 += more - a50 * a50 - a51 * a51 - a52 * a52 - a53 * a53 - a54 * a54;
  if (!(0 < a55)) return false;
  const i5 = 1 / Math.sqrt(a55);
  b5 = (b5 - a50 * b0 - a51 * b1 - a52 * b2 - a53 * b3 - a54 * b4) * i5 * i5;
  b4 = (b4 - a54 * b5) * i4;
  b3 = (b3 - a43 * b4 - a53 * b5) * i3;
  b2 = (b2 - a32 * b3 - a42 * b4 - a52 * b5) * i2;
  b1 = (b1 - a21 * b2 - a31 * b3 - a41 * b4 - a51 * b5) * i1;
  b0 = (b0 - a10 * b1 - a20 * b2 - a30 * b3 - a40 * b4 - a50 * b5) * i0;
  b3 *= angle; b4 *= angle; b5 *= angle;
  for (let k = 0; k < count; k++) {
    if (held[k] === 1) continue;
    const at = 6 * axes[k];
    step[k] -= weights[k] * (
      slope[at] * b0 + slope[at + 1] * b1 + slope[at + 2] * b2 +
      slope[at + 3] * b3 + slope[at + 4] * b4 + slope[at + 5] * b5
    );
  }
  return true;
}

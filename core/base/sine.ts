/*
 * Sine and cosine of one angle together, at half the cost of the two calls. The polynomials are those of the freely
 * distributed fdlibm (Sun Microsystems, 1993: k_sin.c, k_cos.c), good to less than a unit in the last place on
 * -π/4..π/4; the angle is brought there with π/2 in two parts, exact to about 86 bits.
 */
const QUARTERS = 2 / Math.PI;
const HALF_PI_HEAD = 1.57079632673412561417;
const HALF_PI_TAIL = 6.07710050650619224932e-11;
/** Adding and taking off 1.5 · 2^52 rounds to a whole number. */
const TO_WHOLE = 6755399441055744;
/** Beyond this many radians the two parts of π/2 no longer do. */
const LARGE = 1e5;

/** Writes cos(angle) and sin(angle) into `out[0]` and `out[1]`. Absolute error below 2e-16; NaN stays NaN. */
export function writeCosSin(angle: number, out: Float64Array): void {
  if (!(-LARGE < angle && angle < LARGE)) {
    out[0] = Math.cos(angle);
    out[1] = Math.sin(angle);
    return;
  }
  const quarters = angle * QUARTERS + TO_WHOLE - TO_WHOLE;
  const r = angle - quarters * HALF_PI_HEAD - quarters * HALF_PI_TAIL;
  const z = r * r;
  const s =
    r +
    z *
      r *
      (-1.66666666666666324348e-1 +
        z *
          (8.33333333332248946124e-3 +
            z *
              (-1.98412698298579493134e-4 +
                z * (2.75573137070700676789e-6 + z * (-2.50507602534068634195e-8 + z * 1.58969099521155010221e-10)))));
  const half = 0.5 * z;
  const w = 1 - half;
  const c =
    w +
    (1 -
      w -
      half +
      z *
        z *
        (4.16666666666666019037e-2 +
          z *
            (-1.38888888888741095749e-3 +
              z *
                (2.48015872894767294178e-5 +
                  z *
                    (-2.75573143513906633035e-7 + z * (2.0875723212981748279e-9 + z * -1.13596475577881948265e-11))))));
  const quadrant = quarters & 3;
  const swapped = (quadrant & 1) === 1;
  const first = swapped ? s : c;
  const second = swapped ? c : s;
  out[0] = ((quadrant + 1) & 2) === 0 ? first : -first;
  out[1] = (quadrant & 2) === 0 ? second : -second;
}

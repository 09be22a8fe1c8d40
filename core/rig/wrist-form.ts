/**
 * The last two or three turns of a chain, as directions in the frame before the first of them while all are at 0, and
 * where the camera is then.
 */
export interface WristForm {
  readonly size: 2 | 3;
  /** Unit directions of the turns, shape (3, 3). */
  readonly axes: Float64Array;
  /** Camera to that frame while the turns are at 0, row-major (9,). */
  readonly mount: Float64Array;
  /** From the pupil to the wrist's centre in the camera frame (3,) [m]. */
  readonly centre: Float64Array;
  /** Two ways to turn: values of the turns, shape (2, 3). */
  readonly solutions: Float64Array;
}

export function createWristForm(size: 2 | 3): WristForm {
  return {
    size,
    axes: new Float64Array(9),
    mount: new Float64Array(9),
    centre: new Float64Array(3),
    solutions: new Float64Array(6),
  };
}

/**
 * Turns for which R(axis 0) · R(axis 1) · `from` = `onto`, unit vectors: the point that both turns can bring together is
 * on a circle about each axis.
 *
 * @param slack How far past what the turns can do `onto` may be, of 1; the nearest turns are then taken.
 * @returns False when it is farther, or the axes are parallel.
 */
export function solveTwoTurns(
  { axes: w, solutions }: WristForm,
  fx: number,
  fy: number,
  fz: number,
  ox: number,
  oy: number,
  oz: number,
  slack: number,
): boolean {
  const cosine = w[0] * w[3] + w[1] * w[4] + w[2] * w[5];
  const alongInner = w[3] * fx + w[4] * fy + w[5] * fz;
  // outer · R(inner, y) from = a + b cos y + c sin y, to be outer · onto.
  const a = cosine * alongInner;
  const b = w[0] * fx + w[1] * fy + w[2] * fz - a;
  const sx = w[4] * fz - w[5] * fy;
  const sy = w[5] * fx - w[3] * fz;
  const sz = w[3] * fy - w[4] * fx;
  const c = w[0] * sx + w[1] * sy + w[2] * sz;
  const size = Math.sqrt(b * b + c * c);
  if (!(1e-9 < size)) return false;
  const share = (w[0] * ox + w[1] * oy + w[2] * oz - a) / size;
  if (1 + slack < Math.abs(share)) return false;
  const middle = Math.atan2(c, b);
  const aside = Math.acos(Math.min(1, Math.max(-1, share)));
  for (let k = 0; k < 2; k++) {
    const y = k === 0 ? middle + aside : middle - aside;
    const cosine1 = Math.cos(y);
    const sine1 = Math.sin(y);
    const rest = (1 - cosine1) * alongInner;
    const tx = cosine1 * fx + rest * w[3] + sine1 * sx;
    const ty = cosine1 * fy + rest * w[4] + sine1 * sy;
    const tz = cosine1 * fz + rest * w[5] + sine1 * sz;
    solutions[3 * k] = angleAbout(w, 0, tx, ty, tz, ox, oy, oz);
    solutions[3 * k + 1] = y;
    solutions[3 * k + 2] = 0;
  }
  return true;
}

/**
 * Turns for which R(axis 0) · R(axis 1) · R(axis 2) = `d`, row-major; `slack` and result as in `solveTwoTurns`. Axes that
 * are not square to each other leave some rotations out.
 */
export function solveThreeTurns(wrist: WristForm, d: Float64Array, slack: number): boolean {
  const { axes: w, solutions } = wrist;
  const ix = w[6];
  const iy = w[7];
  const iz = w[8];
  const found = solveTwoTurns(
    wrist,
    ix,
    iy,
    iz,
    d[0] * ix + d[1] * iy + d[2] * iz,
    d[3] * ix + d[4] * iy + d[5] * iz,
    d[6] * ix + d[7] * iy + d[8] * iz,
    slack,
  );
  if (!found) return false;
  // Any direction square to the innermost axis shows how far that has turned.
  const flat = Math.abs(ix) < 0.7;
  const px = flat ? 0 : -iz;
  const py = flat ? iz : 0;
  const pz = flat ? -iy : ix;
  for (let k = 0; k < 2; k++) {
    const at = 3 * k;
    const qx = d[0] * px + d[1] * py + d[2] * pz;
    const qy = d[3] * px + d[4] * py + d[5] * pz;
    const qz = d[6] * px + d[7] * py + d[8] * pz;
    const outer = -solutions[at];
    let c = Math.cos(outer);
    let s = Math.sin(outer);
    let along = (1 - c) * (w[0] * qx + w[1] * qy + w[2] * qz);
    const ax = c * qx + along * w[0] + s * (w[1] * qz - w[2] * qy);
    const ay = c * qy + along * w[1] + s * (w[2] * qx - w[0] * qz);
    const az = c * qz + along * w[2] + s * (w[0] * qy - w[1] * qx);
    const middle = -solutions[at + 1];
    c = Math.cos(middle);
    s = Math.sin(middle);
    along = (1 - c) * (w[3] * ax + w[4] * ay + w[5] * az);
    const bx = c * ax + along * w[3] + s * (w[4] * az - w[5] * ay);
    const by = c * ay + along * w[4] + s * (w[5] * ax - w[3] * az);
    const bz = c * az + along * w[5] + s * (w[3] * ay - w[4] * ax);
    solutions[at + 2] = angleAbout(w, 6, px, py, pz, bx, by, bz);
  }
  return true;
}

/** Right-hand angle about the axis in `w[at..]` from the first vector to the second, both seen along it. */
function angleAbout(
  w: Float64Array,
  at: number,
  ax: number,
  ay: number,
  az: number,
  bx: number,
  by: number,
  bz: number,
): number {
  const x = w[at];
  const y = w[at + 1];
  const z = w[at + 2];
  const sine = x * (ay * bz - az * by) + y * (az * bx - ax * bz) + z * (ax * by - ay * bx);
  const cosine = ax * bx + ay * by + az * bz - (x * ax + y * ay + z * az) * (x * bx + y * by + z * bz);
  return Math.atan2(sine, cosine);
}

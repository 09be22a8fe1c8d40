import type { JointRoom, MovingChain } from "./moving-chain.ts";
import { ROOM } from "./series.ts";

/** What solving the last two turning steps a and b for one target writes. */
export interface PairRoom {
  /** The target before step a, and turned by N there, shape (3, ROOM) [m]. */
  readonly point: Float64Array;
  /** The first two parts of it before b's turn, shape (2, ROOM), and the part along the view of the sight, (ROOM,). */
  readonly inner: Float64Array;
  readonly view: Float64Array;
  /** Sines and cosines of both joints, shape (ROOM,) each, and the joints' own series. */
  readonly sinA: Float64Array;
  readonly cosA: Float64Array;
  readonly sinB: Float64Array;
  readonly cosB: Float64Array;
  readonly a: Float64Array;
  readonly b: Float64Array;
  /** Line of sight in the camera's frame and its derivatives by both joints, shape (3,) each [m]. */
  readonly sight: Float64Array;
  readonly byA: Float64Array;
  readonly byB: Float64Array;
  /** d(part before b's turn) / da, shape (2,). */
  readonly innerByA: Float64Array;
  /** Both equations' derivatives by a and b, row-major, shape (4,). */
  readonly jacobian: Float64Array;
}

export function createPairRoom(): PairRoom {
  const series = (): Float64Array => new Float64Array(ROOM);
  return {
    point: new Float64Array(3 * ROOM),
    inner: new Float64Array(2 * ROOM),
    view: series(),
    sinA: series(),
    cosA: series(),
    sinB: series(),
    cosB: series(),
    a: series(),
    b: series(),
    sight: new Float64Array(3),
    byA: new Float64Array(3),
    byB: new Float64Array(3),
    innerByA: new Float64Array(2),
    jacobian: new Float64Array(4),
  };
}

/** A start farther off than this [rad] is not the path's: Newton's method leaves its square. */
const NEAR = 1e-5;
/** The second step is the last: what it leaves is rounding. */
const LAST = 3e-8;
const ROUNDING = 1e-14;
/** Share of its size below which the determinant tells of the pole, which the general solver looks after. */
const STEEP = 1e-4;

/**
 * Values of the two joints, from the axes' values in `axes`, which are overwritten; the joints of both steps come into
 * `joints`. `room.point` must be before step a. Returns false, with `axes` as they were, where the start is not near, the
 * sight points backward or the pole is near.
 *
 * @param x, y The wanted picture point: the sight (X, Y, Z) must have Y + x X = 0 and Z + y X = 0.
 */
export function aimPairValues(
  chain: MovingChain,
  joints: JointRoom,
  axes: Float64Array,
  pupil: number,
  x: number,
  y: number,
  room: PairRoom,
): boolean {
  const { sight, jacobian: j, sinA, cosA, sinB, cosB } = room;
  const i = chain.count - 2;
  const atA = chain.axis[i] * ROOM;
  const atB = chain.axis[i + 1] * ROOM;
  let a = chain.ratio[i] * axes[atA] + chain.offset[i];
  let b = chain.ratio[i + 1] * axes[atB] + chain.offset[i + 1];
  sinA[0] = Math.sin(a);
  cosA[0] = Math.cos(a);
  sinB[0] = Math.sin(b);
  cosB[0] = Math.cos(b);
  turnPoint(chain, room);
  for (let round = 0; ; round++) {
    writeSight(chain, pupil, room);
    const size = Math.abs(sight[0]) + Math.abs(sight[1]) + Math.abs(sight[2]);
    if (!(0 < sight[0])) return false;
    writeSlopes(x, y, room);
    const det = j[0] * j[3] - j[1] * j[2];
    const scale = (Math.abs(j[0]) + Math.abs(j[1])) * (Math.abs(j[2]) + Math.abs(j[3]));
    if (!(STEEP * scale < Math.abs(det))) return false;
    const across = sight[1] + x * sight[0];
    const down = sight[2] + y * sight[0];
    const left = Math.abs(across) + Math.abs(down);
    if (left < ROUNDING * size) break;
    const da = (j[3] * across - j[1] * down) / det;
    const db = (j[0] * down - j[2] * across) / det;
    const longest = Math.max(Math.abs(da), Math.abs(db));
    if (!(longest < (round === 0 ? NEAR : LAST))) return false;
    a -= da;
    b -= db;
    turnLittle(sinA, cosA, da);
    turnLittle(sinB, cosB, db);
    // The second step leaves the square of the first's: a third would only stir rounding.
    if (0 < round && (longest < ROUNDING || 1 < round)) break;
  }
  axes[atA] = (a - chain.offset[i]) / chain.ratio[i];
  axes[atB] = (b - chain.offset[i + 1]) / chain.ratio[i + 1];
  joints.q[i] = a;
  joints.q[i + 1] = b;
  joints.sin[i] = sinA[0];
  joints.cos[i] = cosA[0];
  joints.sin[i + 1] = sinB[0];
  joints.cos[i + 1] = cosB[0];
  return true;
}

/** Orders 1 to 3 of both axes by implicit differentiation, right after `aimPairValues`. `x`, `y`: series of the picture point. */
export function aimPairRates(
  chain: MovingChain,
  axes: Float64Array,
  x: Float64Array,
  y: Float64Array,
  room: PairRoom,
): void {
  const { point: p, inner, view, sinA, cosA, sinB, cosB, a, b, byA, byB, innerByA, jacobian: j } = room;
  const { rotation: n } = chain;
  const i = chain.count - 2;
  const atA = chain.axis[i] * ROOM;
  const atB = chain.axis[i + 1] * ROOM;
  const nb = 9 * (i + 1);
  const nf = 9 * (i + 2);
  const det = j[0] * j[3] - j[1] * j[2];
  view[0] = room.sight[0];
  for (let k = 1; k <= 3; k++) {
    // With order k of both joints 0.
    let sa = 0;
    let ca = 0;
    let sb = 0;
    let cb = 0;
    for (let m = 1; m < k; m++) {
      sa += m * a[m] * cosA[k - m];
      ca -= m * a[m] * sinA[k - m];
      sb += m * b[m] * cosB[k - m];
      cb -= m * b[m] * sinB[k - m];
    }
    sinA[k] = sa /= k;
    cosA[k] = ca /= k;
    sinB[k] = sb /= k;
    cosB[k] = cb /= k;
    let rx = 0;
    let ry = 0;
    for (let m = 0; m <= k; m++) {
      const u = p[k - m];
      const v = p[ROOM + k - m];
      rx += cosA[m] * u + sinA[m] * v;
      ry += cosA[m] * v - sinA[m] * u;
    }
    const rz = p[2 * ROOM + k];
    inner[k] = n[nb] * rx + n[nb + 1] * ry + n[nb + 2] * rz;
    inner[ROOM + k] = n[nb + 3] * rx + n[nb + 4] * ry + n[nb + 5] * rz;
    const vz = n[nb + 6] * rx + n[nb + 7] * ry + n[nb + 8] * rz;
    let vx = 0;
    let vy = 0;
    for (let m = 0; m <= k; m++) {
      const u = inner[k - m];
      const v = inner[ROOM + k - m];
      vx += cosB[m] * u + sinB[m] * v;
      vy += cosB[m] * v - sinB[m] * u;
    }
    const ahead = n[nf] * vx + n[nf + 1] * vy + n[nf + 2] * vz;
    let across = n[nf + 3] * vx + n[nf + 4] * vy + n[nf + 5] * vz;
    let down = n[nf + 6] * vx + n[nf + 7] * vy + n[nf + 8] * vz;
    view[k] = ahead;
    for (let m = 0; m <= k; m++) {
      across += x[m] * view[k - m];
      down += y[m] * view[k - m];
    }
    const da = -(j[3] * across - j[1] * down) / det;
    const db = -(j[0] * down - j[2] * across) / det;
    a[k] = da;
    b[k] = db;
    // What hangs on them: all of it in one product with a term of order 0.
    sinA[k] = sa + cosA[0] * da;
    cosA[k] = ca - sinA[0] * da;
    sinB[k] = sb + cosB[0] * db;
    cosB[k] = cb - sinB[0] * db;
    inner[k] += innerByA[0] * da;
    inner[ROOM + k] += innerByA[1] * da;
    view[k] += byA[0] * da + byB[0] * db;
    axes[atA + k] = da / chain.ratio[i];
    axes[atB + k] = db / chain.ratio[i + 1];
  }
}

/** The point before a's turn, in place: N (p - o), orders 0 to 3. */
function turnPoint({ count, rotation: n, origin: o }: MovingChain, { point: p }: PairRoom): void {
  const i9 = 9 * (count - 2);
  const i3 = 3 * (count - 2);
  p[0] -= o[i3];
  p[ROOM] -= o[i3 + 1];
  p[2 * ROOM] -= o[i3 + 2];
  for (let k = 0; k <= 3; k++) {
    const u = p[k];
    const v = p[ROOM + k];
    const w = p[2 * ROOM + k];
    p[k] = n[i9] * u + n[i9 + 1] * v + n[i9 + 2] * w;
    p[ROOM + k] = n[i9 + 3] * u + n[i9 + 4] * v + n[i9 + 5] * w;
    p[2 * ROOM + k] = n[i9 + 6] * u + n[i9 + 7] * v + n[i9 + 8] * w;
  }
}

/** Line of sight at order 0 and its derivatives by both joints. */
function writeSight({ count, rotation: n, origin: o }: MovingChain, pupil: number, room: PairRoom): void {
  const { point: p, inner, sight, byA, byB, innerByA } = room;
  const sa = room.sinA[0];
  const ca = room.cosA[0];
  const sb = room.sinB[0];
  const cb = room.cosB[0];
  const nb = 9 * (count - 1);
  const ob = 3 * (count - 1);
  const nf = 9 * count;
  const of = 3 * count;
  const tx = ca * p[0] + sa * p[ROOM];
  const ty = ca * p[ROOM] - sa * p[0];
  const rx = tx - o[ob];
  const ry = ty - o[ob + 1];
  const rz = p[2 * ROOM] - o[ob + 2];
  const ux = n[nb] * rx + n[nb + 1] * ry + n[nb + 2] * rz;
  const uy = n[nb + 3] * rx + n[nb + 4] * ry + n[nb + 5] * rz;
  const uz = n[nb + 6] * rx + n[nb + 7] * ry + n[nb + 8] * rz;
  inner[0] = ux;
  inner[ROOM] = uy;
  const wx = cb * ux + sb * uy;
  const wy = cb * uy - sb * ux;
  const vx = wx - o[of];
  const vy = wy - o[of + 1];
  const vz = uz - o[of + 2];
  sight[0] = n[nf] * vx + n[nf + 1] * vy + n[nf + 2] * vz - pupil;
  sight[1] = n[nf + 3] * vx + n[nf + 4] * vy + n[nf + 5] * vz;
  sight[2] = n[nf + 6] * vx + n[nf + 7] * vy + n[nf + 8] * vz;
  byB[0] = n[nf] * wy - n[nf + 1] * wx;
  byB[1] = n[nf + 3] * wy - n[nf + 4] * wx;
  byB[2] = n[nf + 6] * wy - n[nf + 7] * wx;
  const dux = n[nb] * ty - n[nb + 1] * tx;
  const duy = n[nb + 3] * ty - n[nb + 4] * tx;
  const dz = n[nb + 6] * ty - n[nb + 7] * tx;
  innerByA[0] = dux;
  innerByA[1] = duy;
  const dx = cb * dux + sb * duy;
  const dy = cb * duy - sb * dux;
  byA[0] = n[nf] * dx + n[nf + 1] * dy + n[nf + 2] * dz;
  byA[1] = n[nf + 3] * dx + n[nf + 4] * dy + n[nf + 5] * dz;
  byA[2] = n[nf + 6] * dx + n[nf + 7] * dy + n[nf + 8] * dz;
}

function writeSlopes(x: number, y: number, { jacobian, byA, byB }: PairRoom): void {
  jacobian[0] = byA[1] + x * byA[0];
  jacobian[1] = byB[1] + x * byB[0];
  jacobian[2] = byA[2] + y * byA[0];
  jacobian[3] = byB[2] + y * byB[0];
}

/** Sine and cosine of an angle less `by` [rad], at most 1e-5: what is left out is below rounding. */
function turnLittle(sin: Float64Array, cos: Float64Array, by: number): void {
  const s = by * (1 - (by * by) / 6);
  const c = 1 - 0.5 * by * by;
  const before = sin[0];
  sin[0] = before * c - cos[0] * s;
  cos[0] = cos[0] * c + before * s;
}

import { leastInPolygon, type HalfPlane } from "./least-in-polygon.ts";

/** Speed and acceleration at each knot, shape (n,). */
export interface KnotRates {
  readonly speed: Float64Array;
  readonly accel: Float64Array;
}

/** Sweeps end when no knot moves by more than this share of its scale; pinned by `knot-rates.test.ts`. */
const SETTLED = 1e-9;
const MOST_SWEEPS = 80;

/**
 * Chooses speed and acceleration at the knots of a piecewise quintic: the curve of least squared jerk among those that
 * stay monotone between neighbouring knots.
 *
 * The derivative of a quintic piece is a quartic; in Bernstein form over the piece, of length h and rise d, it is
 * v0, v0 + a0 h/4, 5 d/h - (the others), v1 - a1 h/4, v1. The piece is monotone when none of these has the wrong sign.
 * The middle one couples both ends; each gets half of 5 d/h to use, or all of it when the other end rests. So each knot
 * has a polygon of its own for (speed, acceleration), and sweeping over the knots converges to the one best choice.
 *
 * @param times  Ascending, shape (n,) [s].
 * @param values Shape (n,).
 * @param fixed  Knots whose rates are given and stay; both ends must be.
 * @param rates  In: rates of the fixed knots. Out: all rates. Where the data turn the speed is 0; beside equal
 *               neighbours speed and acceleration are 0.
 */
export function chooseKnotRates(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  fixed: readonly boolean[],
  rates: KnotRates,
): void {
  const free: number[] = [];
  const polygons: HalfPlane[][] = [];
  const still = values.length === 0 ? [] : Array.from(fixed, (f, i) => f || isFlat(values, i));
  for (let i = 1; i + 1 < values.length; i++) {
    if (still[i]) continue;
    free.push(i);
    polygons.push(polygonOf(times, values, still, i));
  }
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let moved = 0;
    for (let k = 0; k < free.length; k++) {
      const n = sweep % 2 === 0 ? k : free.length - 1 - k;
      moved = Math.max(moved, settle(times, values, rates, free[n], polygons[n]));
    }
    if (moved <= SETTLED) return;
  }
}

function isFlat(values: ArrayLike<number>, i: number): boolean {
  return values[i] === values[i - 1] || values[i] === values[i + 1];
}

/** In the knot's own units: x = speed · H, y = acceleration · H², H the mean length of both pieces. */
function polygonOf(times: ArrayLike<number>, values: ArrayLike<number>, still: boolean[], i: number): HalfPlane[] {
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const up = Math.sign(values[i] - values[i - 1]);
  const on = Math.sign(values[i + 1] - values[i]);
  const l = left / mean / 4;
  const r = right / mean / 4;
  const roomLeft = ((still[i - 1] ? 5 : 2.5) * Math.abs(values[i] - values[i - 1])) / (left / mean);
  const roomRight = ((still[i + 1] ? 5 : 2.5) * Math.abs(values[i + 1] - values[i])) / (right / mean);
  const planes = [
    { a: -up, b: 0, limit: 0 },
    { a: -up, b: up * l, limit: 0 },
    { a: 2 * up, b: -up * l, limit: roomLeft },
    { a: -on, b: -on * r, limit: 0 },
    { a: 2 * on, b: on * r, limit: roomRight },
  ];
  // Where the data turn, -x <= 0 and x <= 0 leave x = 0.
  if (on !== up) planes.push({ a: -on, b: 0, limit: 0 });
  return planes;
}

/** Puts knot `i` at its best while its neighbours stay. Returns how far it moved, as a share of its scale. */
function settle(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  rates: KnotRates,
  i: number,
  polygon: readonly HalfPlane[],
): number {
  const { speed, accel } = rates;
  const left = times[i] - times[i - 1];
  const right = times[i + 1] - times[i];
  const mean = (left + right) / 2;
  const l = left / mean;
  const r = right / mean;
  // Squared jerk of a piece of length 1 with p = d - v0 - a0/2, v = v1 - v0 - a0, a = a1 - a0 is
  // 720 p² - 720 p v + 192 v² + 120 p a - 72 v a + 9 a²; below its gradients where this knot's own rates are 0.
  const vL = speed[i - 1] * left;
  const aL = accel[i - 1] * left * left;
  const pL = values[i] - values[i - 1] - vL - aL / 2;
  const vR = speed[i + 1] * right;
  const aR = accel[i + 1] * right * right;
  const pR = values[i + 1] - values[i];
  const wL = 1 / l ** 5;
  const wR = 1 / r ** 5;
  const bowl = {
    xx: 384 * (wL * l * l + wR * r * r),
    xy: 72 * (wR * r ** 3 - wL * l ** 3),
    yy: 18 * (wL * l ** 4 + wR * r ** 4),
    x1: wL * l * (-720 * pL - 384 * (vL + aL) + 72 * aL) + wR * r * (-720 * pR + 336 * vR - 48 * aR),
    y1: wL * l * l * (120 * pL + 72 * (vL + aL) - 18 * aL) + wR * r * r * (-120 * pR + 48 * vR - 6 * aR),
  };
  const [x, y] = leastInPolygon(bowl, polygon);
  const scale = Math.abs(values[i] - values[i - 1]) + Math.abs(values[i + 1] - values[i]);
  const moved = Math.max(Math.abs(x - speed[i] * mean), Math.abs(y - accel[i] * mean * mean));
  speed[i] = x / mean;
  accel[i] = y / (mean * mean);
  return moved / scale;
}

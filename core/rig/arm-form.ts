import {
  createPoseBuffer,
  fillFollowers,
  forward,
  LINEAR,
  type BaseFrame,
  type Chain,
  type PoseBuffer,
} from "./chain.ts";
import { createPlanePair, fitPair, probeOf, solvePair, type PairForm, type PlanePair } from "./plane-pair.ts";
import { solveHarmonic } from "./plain-equations.ts";

/** Three axes that bring a point to a place in closed form: a pair that moves it in a plane, and a lone one. */
export interface ArmForm {
  /** Whether the lone axis turns the pair's plane, or only moves the point along the plane's normal. */
  readonly plane: "turned" | "still";
  readonly lone: number;
  /** Joint indices of the pair; of a turn and a slide the turn comes first. */
  readonly first: number;
  readonly second: number;
  readonly pair: PairForm;
  readonly rides: boolean;
}

/** Room for solving arms of one chain, whose mount stands for the point that is brought to place. */
export interface ArmRoom {
  readonly chain: Chain;
  readonly pose: PoseBuffer;
  /** Shape (n,): the values that other axes keep; the form's own are overwritten. */
  readonly q: Float64Array;
  /** Solutions: values of lone, first, second. Shape (4, 3). */
  readonly solutions: Float64Array;
  readonly pair: PlanePair;
  readonly pairValues: Float64Array;
  readonly loneValues: Float64Array;
  /** Unit normal of the plane and two unit vectors in it, shape (9,). */
  readonly plane: Float64Array;
  readonly heights: Float64Array;
}

export function createArmRoom(chain: Chain): ArmRoom {
  return {
    chain,
    pose: createPoseBuffer(chain),
    q: new Float64Array(chain.rig.joints.length),
    solutions: new Float64Array(12),
    pair: createPlanePair(),
    pairValues: new Float64Array(4),
    loneValues: new Float64Array(2),
    plane: new Float64Array(9),
    heights: new Float64Array(3),
  };
}

/**
 * Values of the form's axes that bring the point to (x, y, z), the others keeping theirs of `room.q`. Allocates nothing.
 *
 * @param nearest Where none do, gives values that come near.
 * @returns How many solutions are in `room.solutions`; ranges are not regarded.
 */
export function solveArm(
  room: ArmRoom,
  form: ArmForm,
  base: BaseFrame,
  x: number,
  y: number,
  z: number,
  nearest: boolean,
): number {
  const { chain, pose, q, plane, heights, loneValues } = room;
  const { lone } = form;
  q[lone] = 0;
  q[form.first] = 0;
  q[form.second] = 0;
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  if (!writePlane(room, form)) return 0;
  const nx = plane[0];
  const ny = plane[1];
  const nz = plane[2];
  if (form.plane === "still") {
    const height = nx * x + ny * y + nz * z;
    const found = loneInStillPlane(room, form, base, height, nearest);
    let count = 0;
    // The pair's probes overwrite nothing of the lone axis's values.
    for (let k = 0; k < found; k++) {
      q[lone] = loneValues[k];
      fitAt(room, form, base, 0, 0, 0, false);
      count = keepPairs(room, inPlane(plane, 3, x, y, z), inPlane(plane, 6, x, y, z), loneValues[k], nearest, count);
    }
    return count;
  }
  const at = pose.positions;
  const ox = at[3 * lone];
  const oy = at[3 * lone + 1];
  const oz = at[3 * lone + 2];
  const m = pose.rotations;
  const ax = turned(chain, m, lone, 0);
  const ay = turned(chain, m, lone, 1);
  const az = turned(chain, m, lone, 2);
  const p = pose.mountPosition;
  heights[0] = nx * (p[0] - ox) + ny * (p[1] - oy) + nz * (p[2] - oz);
  const vx = x - ox;
  const vy = y - oy;
  const vz = z - oz;
  const along = ax * vx + ay * vy + az * vz;
  const sx = ay * vz - az * vy;
  const sy = az * vx - ax * vz;
  const sz = ax * vy - ay * vx;
  const lean = nx * ax + ny * ay + nz * az;
  const found = solveHarmonic(
    lean * along - heights[0],
    nx * vx + ny * vy + nz * vz - lean * along,
    -(nx * sx + ny * sy + nz * sz),
    nearest,
    loneValues,
  );
  if (found === 0) return 0;
  fitAt(room, form, base, ox, oy, oz, true);
  let count = 0;
  for (let k = 0; k < found; k++) {
    const c = Math.cos(loneValues[k]);
    const s = Math.sin(loneValues[k]);
    const rest = (1 - c) * along;
    const bx = c * vx + rest * ax - s * sx;
    const by = c * vy + rest * ay - s * sy;
    const bz = c * vz + rest * az - s * sz;
    const u = inPlane(plane, 3, bx, by, bz);
    const v = inPlane(plane, 6, bx, by, bz);
    count = keepPairs(room, u, v, loneValues[k], nearest, count);
  }
  return count;
}

/** Values of a lone axis that lift the point to a height over a plane that stays as it is. */
function loneInStillPlane(room: ArmRoom, form: ArmForm, base: BaseFrame, height: number, nearest: boolean): number {
  const { chain, heights, loneValues } = room;
  const slides = chain.kind[form.lone] === LINEAR;
  for (let k = 0; k < (slides ? 2 : 3); k++) heights[k] = heightAt(room, form, base, slides ? k : (k * Math.PI) / 2);
  if (slides) {
    const rise = heights[1] - heights[0];
    if (Math.abs(rise) < 1e-9) return 0;
    loneValues[0] = (height - heights[0]) / rise;
    return 1;
  }
  // h = m + b cos + c sin, from 0, a quarter and half a turn.
  const middle = (heights[0] + heights[2]) / 2;
  const cosine = (heights[0] - heights[2]) / 2;
  return solveHarmonic(middle - height, cosine, heights[1] - middle, nearest, loneValues);
}

function heightAt({ chain, pose, q, plane }: ArmRoom, { lone }: ArmForm, base: BaseFrame, value: number): number {
  q[lone] = value;
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  const p = pose.mountPosition;
  return inPlane(plane, 0, p[0], p[1], p[2]);
}

/** Measures the pair's constants at the lone axis's present value; coordinates are taken from the point (ox, oy, oz).
 * @param posed Whether `room.pose` is that with the pair at 0 already. */
function fitAt(
  room: ArmRoom,
  form: ArmForm,
  base: BaseFrame,
  ox: number,
  oy: number,
  oz: number,
  posed: boolean,
): void {
  const { chain, pose, q, plane, pair } = room;
  pair.form = form.pair;
  pair.rides = form.rides;
  let x0 = 0;
  let y0 = 0;
  let x1 = 0;
  let y1 = 0;
  for (let probe = 0; probe < 3; probe++) {
    if (0 < probe || !posed) {
      q[form.first] = probe === 1 ? probeOf(form.pair, 0) : 0;
      q[form.second] = probe === 2 ? probeOf(form.pair, 1) : 0;
      fillFollowers(chain, q);
      forward(chain, base, q, pose);
    }
    const p = pose.mountPosition;
    const u = inPlane(plane, 3, p[0] - ox, p[1] - oy, p[2] - oz);
    const v = inPlane(plane, 6, p[0] - ox, p[1] - oy, p[2] - oz);
    if (probe === 0) {
      x0 = u;
      y0 = v;
    } else if (probe === 1) {
      x1 = u;
      y1 = v;
    } else fitPair(pair, x0, y0, x1, y1, u, v);
  }
}

function keepPairs(
  { pair, pairValues, solutions }: ArmRoom,
  u: number,
  v: number,
  lone: number,
  nearest: boolean,
  count: number,
): number {
  const found = solvePair(pair, u, v, nearest, pairValues);
  for (let k = 0; k < found; k++) {
    solutions[3 * (count + k)] = lone;
    solutions[3 * (count + k) + 1] = pairValues[2 * k];
    solutions[3 * (count + k) + 2] = pairValues[2 * k + 1];
  }
  return count + found;
}

/** The plane of the pair at the present pose: normal to the first turn, or to both slides. False where there is none. */
function writePlane({ chain, pose, plane, pair }: ArmRoom, { first, second, pair: form }: ArmForm): boolean {
  const m = pose.rotations;
  let nx = turned(chain, m, first, 0);
  let ny = turned(chain, m, first, 1);
  let nz = turned(chain, m, first, 2);
  const gx = turned(chain, m, second, 0);
  const gy = turned(chain, m, second, 1);
  const gz = turned(chain, m, second, 2);
  if (form === "slides") {
    const cx = ny * gz - nz * gy;
    const cy = nz * gx - nx * gz;
    const cz = nx * gy - ny * gx;
    const size = Math.sqrt(cx * cx + cy * cy + cz * cz);
    if (size < 1e-6) return false;
    nx = cx / size;
    ny = cy / size;
    nz = cz / size;
  } else {
    const across = gx * nx + gy * ny + gz * nz;
    // A second turn has to be about the same direction, a slide square to it.
    if (Math.abs(form === "turns" ? Math.abs(across) - 1 : across) > 1e-9) return false;
    pair.sense = across < 0 ? -1 : 1;
  }
  // Any vector square to the normal: from the axis that is least along it.
  const least = Math.min(Math.abs(nx), Math.abs(ny), Math.abs(nz));
  const useX = Math.abs(nx) === least;
  const useY = !useX && Math.abs(ny) === least;
  let ux = useX ? 0 : useY ? nz : -ny;
  let uy = useX ? -nz : useY ? 0 : nx;
  let uz = useX ? ny : useY ? -nx : 0;
  const size = Math.sqrt(ux * ux + uy * uy + uz * uz);
  ux /= size;
  uy /= size;
  uz /= size;
  plane[0] = nx;
  plane[1] = ny;
  plane[2] = nz;
  plane[3] = ux;
  plane[4] = uy;
  plane[5] = uz;
  plane[6] = ny * uz - nz * uy;
  plane[7] = nz * ux - nx * uz;
  plane[8] = nx * uy - ny * ux;
  return true;
}

function inPlane(plane: Float64Array, at: number, x: number, y: number, z: number): number {
  return plane[at] * x + plane[at + 1] * y + plane[at + 2] * z;
}

/** Component `row` of a joint's direction in the frame of the pose. */
function turned(chain: Chain, rotations: Float64Array, joint: number, row: number): number {
  const r = 9 * joint + 3 * row;
  const a = chain.along;
  return rotations[r] * a[3 * joint] + rotations[r + 1] * a[3 * joint + 1] + rotations[r + 2] * a[3 * joint + 2];
}

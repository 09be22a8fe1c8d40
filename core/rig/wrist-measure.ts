import {
  createPoseBuffer,
  fillFollowers,
  forward,
  ownFrame,
  type BaseFrame,
  type Chain,
  type PoseBuffer,
} from "./chain.ts";
import { createWristForm, type WristForm } from "./wrist-form.ts";

/** A wrist of a chain and what it was last measured with: its form changes with axes between the turns that are no unknowns. */
export interface MeasuredWrist {
  readonly chain: Chain;
  /** Joint indices of the turns, in chain order. */
  readonly joints: readonly number[];
  readonly form: WristForm;
  /** The centre in the frame of the first turn, which lies on its axis, shape (3,) [m]. */
  readonly inFirst: Float64Array;
  /** How far the axes pass by each other [m]. */
  pass: number;
  /** Joints whose values are given, and those values with the pupil at the end. */
  readonly given: readonly number[];
  readonly values: Float64Array;
  readonly own: BaseFrame;
  readonly pose: PoseBuffer;
  readonly q: Float64Array;
}

/**
 * @param joints Two or three turns, in chain order.
 * @param axes   All unknowns: the other joints are given.
 */
export function createMeasuredWrist(chain: Chain, joints: readonly number[], axes: readonly number[]): MeasuredWrist {
  const given = chain.rig.joints.flatMap((_, i) => (axes.includes(i) || 0 <= chain.leader[i] ? [] : [i]));
  return {
    chain,
    joints,
    form: createWristForm(joints.length === 2 ? 2 : 3),
    inFirst: new Float64Array(3),
    pass: NaN,
    given,
    values: new Float64Array(given.length + 1).fill(NaN),
    own: ownFrame(),
    pose: createPoseBuffer(chain),
    q: new Float64Array(chain.count),
  };
}

/**
 * Measures directions, centre and camera, unless it was done for the same given values and pupil.
 *
 * @param q     Shape (n,): values of the given joints.
 * @param pupil In front of the flange [m].
 * @returns False when the first two axes are parallel.
 */
export function measureWrist(wrist: MeasuredWrist, q: Float64Array, pupil: number): boolean {
  const { given, values } = wrist;
  let same = values[given.length] === pupil;
  for (let k = 0; k < given.length && same; k++) same = values[k] === q[given[k]];
  if (same) return !Number.isNaN(wrist.pass);
  for (let k = 0; k < given.length; k++) values[k] = q[given[k]];
  values[given.length] = pupil;
  wrist.pass = measure(wrist, q, pupil);
  return !Number.isNaN(wrist.pass);
}

/** How far the axes pass by each other [m], NaN when the first two are parallel. */
function measure(wrist: MeasuredWrist, given: Float64Array, pupil: number): number {
  const { chain, joints, form, pose, q, own } = wrist;
  q.set(given);
  for (const joint of joints) q[joint] = 0;
  fillFollowers(chain, q);
  forward(chain, own, q, pose);
  const { rotations: m, positions, mountRotation, mountPosition } = pose;
  const outer = 9 * joints[0];
  const along = joints.map((joint) => turnRows(m, 9 * joint, chain.along.subarray(3 * joint, 3 * joint + 3)));
  const at = joints.map((joint) => Array.from(positions.subarray(3 * joint, 3 * joint + 3)));
  along.forEach((direction, k) => form.axes.set(turnColumns(m, outer, direction), 3 * k));
  for (let c = 0; c < 3; c++) {
    const camera = [mountRotation[c], mountRotation[3 + c], mountRotation[6 + c]];
    turnColumns(m, outer, camera).forEach((part, r) => (form.mount[3 * r + c] = part));
  }
  // The point of the outermost axis that is nearest to the next one.
  const gap = at[1].map((part, r) => part - at[0][r]);
  const cosine = dot(along[0], along[1]);
  if (1 - cosine * cosine < 1e-9) return NaN;
  const reach = (dot(along[0], gap) - cosine * dot(along[1], gap)) / (1 - cosine * cosine);
  const centre = at[0].map((part, r) => part + reach * along[0][r]);
  for (let c = 0; c < 3; c++) wrist.inFirst[c] = reach * chain.along[3 * joints[0] + c];
  const eye = [0, 1, 2].map((r) => mountPosition[r] + pupil * mountRotation[3 * r]);
  form.centre.set(
    turnColumns(
      mountRotation,
      0,
      centre.map((part, r) => part - eye[r]),
    ),
  );
  const aside = joints.map((_, k) => {
    const to = centre.map((part, r) => part - at[k][r]);
    const on = dot(along[k], to);
    return Math.hypot(...to.map((part, r) => part - on * along[k][r]));
  });
  return Math.max(...aside);
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** M · v of the row-major matrix at `i`. */
function turnRows(m: Float64Array, i: number, v: ArrayLike<number>): number[] {
  return [0, 3, 6].map((r) => m[i + r] * v[0] + m[i + r + 1] * v[1] + m[i + r + 2] * v[2]);
}

/** M' · v. */
function turnColumns(m: Float64Array, i: number, v: ArrayLike<number>): number[] {
  return [0, 1, 2].map((c) => m[i + c] * v[0] + m[i + 3 + c] * v[1] + m[i + 6 + c] * v[2]);
}

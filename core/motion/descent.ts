import { multiplyMatrices, transformPoint } from "../base/matrix3.ts";
import { fillFollowers, LINEAR, FIXED, type BaseFrame, type Chain } from "../rig/chain.ts";
import { ROOM, writeTurnTerm } from "./series.ts";

/**
 * A rig in one move as the steps that take a point of the set down into the flange's frame. Whatever does not move in
 * the take is folded into the steps: y = N (x - o), then a turn by -q about z, or z less q. N turns each joint's
 * direction onto z. The last row of `rotation` and `origin` leads from the last joint to the flange.
 */
export interface Descent {
  readonly count: number;
  /** Shape (count,): 1 for a turning joint, 0 for a sliding one. */
  readonly turns: Uint8Array;
  /** Shape (count + 1, 9), row-major, and (count + 1, 3) [m]. */
  readonly rotation: Float64Array;
  /** The same turned back: each matrix transposed. */
  readonly back: Float64Array;
  readonly origin: Float64Array;
  /** Axis of the move that the joint hangs on in the end; its value is ratio · axis + offset. */
  readonly axis: Int32Array;
  readonly ratio: Float64Array;
  readonly offset: Float64Array;
}

/** Numbers that one thing takes: three series. */
const THING = 3 * ROOM;

/** Room for points and directions on their way down, as series. p things at once. */
export interface DescentRoom {
  /** Things that go down; the first `points` are points, the others directions. */
  readonly things: number;
  readonly points: number;
  /** Where each thing stands before step i, shape (count + 2, p, 3, ROOM): the last is the flange's frame. */
  readonly place: Float64Array;
  /** The same after N, before the joint, shape (count + 1, p, 3, ROOM). */
  readonly turned: Float64Array;
  /** Joint values, sines and cosines, shape (count, ROOM). */
  readonly q: Float64Array;
  readonly sin: Float64Array;
  readonly cos: Float64Array;
}

/**
 * @param axisOfJoint Axis of the move by joint, -1 for fixed joints.
 * @param still       Values of joints that do not move, shape (joints,); others 0.
 */
export function compileDescent(
  chain: Chain,
  base: BaseFrame,
  axisOfJoint: ArrayLike<number>,
  still: Float64Array,
): Descent {
  const zero = Float64Array.from(still);
  fillFollowers(chain, zero);
  const moving = Array.from({ length: chain.count }, (_, i) => i).filter(
    (i) => chain.kind[i] !== FIXED && chain.rootRatio[i] !== 0 && chain.rig.joints[chain.root[i]].role === "driven",
  );
  const descent: Descent = {
    count: moving.length,
    turns: Uint8Array.from(moving, (i) => (chain.kind[i] === LINEAR ? 0 : 1)),
    rotation: new Float64Array(9 * (moving.length + 1)),
    back: new Float64Array(9 * (moving.length + 1)),
    origin: new Float64Array(3 * (moving.length + 1)),
    axis: Int32Array.from(moving, (i) => axisOfJoint[chain.root[i]]),
    ratio: Float64Array.from(moving, (i) => chain.rootRatio[i]),
    offset: Float64Array.from(moving, (i) => zero[i]),
  };
  const held = { rotation: Float64Array.from(base.rotation), position: Float64Array.from(base.position) };
  let step = 0;
  for (let i = 0; i < chain.count; i++) {
    const o = chain.originPosition;
    place(held, chain.originRotation, 9 * i, o[3 * i], o[3 * i + 1], o[3 * i + 2]);
    if (chain.kind[i] === FIXED) continue;
    const ontoZ = frameOf(chain.along[3 * i], chain.along[3 * i + 1], chain.along[3 * i + 2]);
    place(held, ontoZ, 0, 0, 0, 0);
    if (moving[step] === i) writeStep(descent, step++, held);
    else if (chain.kind[i] === LINEAR) place(held, IDENTITY, 0, 0, 0, zero[i]);
    else place(held, turnAboutZ(zero[i]), 0, 0, 0, 0);
    place(held, transpose(ontoZ), 0, 0, 0, 0);
  }
  const m = chain.mountPosition;
  place(held, chain.mountRotation, 0, m[0], m[1], m[2]);
  writeStep(descent, step, held);
  return descent;
}

export function createDescentRoom(descent: Descent, points: number, directions: number): DescentRoom {
  const things = points + directions;
  const { count } = descent;
  return {
    things,
    points,
    place: new Float64Array((count + 2) * things * 3 * ROOM),
    turned: new Float64Array((count + 1) * things * 3 * ROOM),
    q: new Float64Array(count * ROOM),
    sin: new Float64Array(count * ROOM),
    cos: new Float64Array(count * ROOM),
  };
}

/** Writes coefficient `k` of the joint values of steps `from`..`to` - 1 from the axes' series, shape (axes, ROOM). */
export function writeJointTerms(
  descent: Descent,
  room: DescentRoom,
  axes: Float64Array,
  from: number,
  to: number,
  k: number,
): void {
  for (let i = from; i < to; i++) {
    const at = i * ROOM;
    room.q[at + k] = descent.ratio[i] * axes[descent.axis[i] * ROOM + k] + (k === 0 ? descent.offset[i] : 0);
    if (descent.turns[i] === 1) writeTurnTerm(room.q, at, room.sin, room.cos, at, k);
  }
}

/**
 * Takes coefficient `k` of all things down steps `from`..`to` - 1; to = count + 1 reaches the flange. Lower coefficients
 * and the joints' terms up to `k` must be there.
 */
export function descendTerm(descent: Descent, room: DescentRoom, from: number, to: number, k: number): void {
  const { rotation: n, origin: o, turns, count } = descent;
  const { place: x, turned: y, sin, cos, q, things, points } = room;
  for (let i = from; i < to; i++) {
    const i9 = 9 * i;
    const i3 = 3 * i;
    const turn = i * ROOM;
    for (let p = 0; p < things; p++) {
      const at = (i * things + p) * THING;
      const next = at + things * THING;
      let a = x[at + k];
      let b = x[at + ROOM + k];
      let c = x[at + 2 * ROOM + k];
      if (k === 0 && p < points) {
        a -= o[i3];
        b -= o[i3 + 1];
        c -= o[i3 + 2];
      }
      const u = n[i9] * a + n[i9 + 1] * b + n[i9 + 2] * c;
      const v = n[i9 + 3] * a + n[i9 + 4] * b + n[i9 + 5] * c;
      let w = n[i9 + 6] * a + n[i9 + 7] * b + n[i9 + 8] * c;
      if (i < count && turns[i] === 1) {
        y[at + k] = u;
        y[at + ROOM + k] = v;
        turnTerm(sin, cos, turn, y, at, x, next, k);
      } else {
        x[next + k] = u;
        x[next + ROOM + k] = v;
        if (i < count && p < points) w -= q[turn + k];
      }
      x[next + 2 * ROOM + k] = w;
    }
  }
}

/** Coefficient `k` of (cos · u + sin · v, cos · v - sin · u) of two series u, v. Written out: the innermost loop of sampling. */
function turnTerm(
  sin: Float64Array,
  cos: Float64Array,
  t: number,
  y: Float64Array,
  at: number,
  x: Float64Array,
  next: number,
  k: number,
): void {
  const u = at + k;
  const v = u + ROOM;
  let su = cos[t] * y[u] + sin[t] * y[v];
  let sv = cos[t] * y[v] - sin[t] * y[u];
  if (1 <= k) {
    su += cos[t + 1] * y[u - 1] + sin[t + 1] * y[v - 1];
    sv += cos[t + 1] * y[v - 1] - sin[t + 1] * y[u - 1];
  }
  if (2 <= k) {
    su += cos[t + 2] * y[u - 2] + sin[t + 2] * y[v - 2];
    sv += cos[t + 2] * y[v - 2] - sin[t + 2] * y[u - 2];
  }
  if (3 <= k) {
    su += cos[t + 3] * y[u - 3] + sin[t + 3] * y[v - 3];
    sv += cos[t + 3] * y[v - 3] - sin[t + 3] * y[u - 3];
  }
  if (4 <= k) {
    su += cos[t + 4] * y[u - 4] + sin[t + 4] * y[v - 4];
    sv += cos[t + 4] * y[v - 4] - sin[t + 4] * y[u - 4];
  }
  x[next + k] = su;
  x[next + ROOM + k] = sv;
}

const IDENTITY = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);

/** held = held · (rotation, position). */
function place(
  held: { readonly rotation: Float64Array; readonly position: Float64Array },
  rotation: Float64Array,
  at: number,
  x: number,
  y: number,
  z: number,
): void {
  transformPoint(held.position, 0, held.rotation, 0, x, y, z, held.position, 0);
  multiplyMatrices(held.rotation, 0, rotation, at, held.rotation, 0);
}

/** Stores the held frame as a step and starts over from its far side. */
function writeStep(descent: Descent, step: number, held: { rotation: Float64Array; position: Float64Array }): void {
  descent.rotation.set(transpose(held.rotation), 9 * step);
  descent.back.set(held.rotation, 9 * step);
  descent.origin.set(held.position, 3 * step);
  held.rotation.set(IDENTITY);
  held.position.fill(0);
}

function transpose(m: Float64Array): Float64Array {
  return Float64Array.of(m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]);
}

function turnAboutZ(angle: number): Float64Array {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return Float64Array.of(c, -s, 0, s, c, 0, 0, 0, 1);
}

/** A frame whose z is the unit vector x, y, z. Exact for directions along the frame's own axes. */
function frameOf(x: number, y: number, z: number): Float64Array {
  const size = Math.abs(x) <= Math.abs(y) && Math.abs(x) <= Math.abs(z) ? 0 : Math.abs(y) <= Math.abs(z) ? 1 : 2;
  const pick = [0, 0, 0];
  pick[size] = 1;
  // First axis: the picked frame axis made square to z.
  const along = pick[0] * x + pick[1] * y + pick[2] * z;
  let [u, v, w] = [pick[0] - along * x, pick[1] - along * y, pick[2] - along * z];
  const length = Math.hypot(u, v, w);
  [u, v, w] = [u / length, v / length, w / length];
  const [r, s, t] = [y * w - z * v, z * u - x * w, x * v - y * u];
  return Float64Array.of(u, r, x, v, s, y, w, t, z);
}

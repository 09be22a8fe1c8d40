import type { Course } from "./course.ts";
import type { Placed, Space } from "./space.ts";

/**
 * How far bodies can get within a span of time, and how fast they can change their speed: proven from the bounds of the
 * axes' rates and the bodies' places at the span's ends and middle. A span runs from `a` to `b` with its middle `m`.
 */
export interface MotionBounds {
  /** Axes: most that the value differs from that at the middle, most speed, most acceleration; shape (axes,). */
  readonly step: Float64Array;
  readonly speed: Float64Array;
  readonly accel: Float64Array;
  /** Bounds of speed and acceleration over the whole interval, shape (axes,). */
  readonly mostSpeed: Float64Array;
  readonly mostAccel: Float64Array;
  /** [s] Spans of the interval are halved down to this at most; 0 where its rates are bounded, so that halving proves more. */
  shortest: number;
  /** Directions of the joints in the set at the middle, shape (joints, 3). */
  readonly along: Float64Array;
  /**
   * Of each body, seen from each level (the set, link 0, …): the most that one of its points is away from where it is at
   * the middle [m], and the most that it accelerates [m/s2]. Shape (bodies, levels).
   */
  readonly shift: Float64Array;
  readonly bend: Float64Array;
  /** Shape (bodies,): number of the span that a body's row was written for. */
  readonly written: Int32Array;
  span: number;
}

export function createMotionBounds({ axes, chain, bodies }: Space): MotionBounds {
  const levels = chain.count + 1;
  return {
    step: new Float64Array(axes),
    speed: new Float64Array(axes),
    accel: new Float64Array(axes),
    mostSpeed: new Float64Array(axes),
    mostAccel: new Float64Array(axes),
    shortest: 0,
    along: new Float64Array(3 * chain.count),
    shift: new Float64Array(bodies.length * levels),
    bend: new Float64Array(bodies.length * levels),
    written: new Int32Array(bodies.length).fill(-1),
    span: 0,
  };
}

/** Rounding that the bounds of a polynomial and its values may carry, relative. */
const CAUTION = 1 + 1e-9;

/** [s] Where rates have no bound, as near the pan axis or out of reach, nothing is proven: places are looked at so often. */
const LOOK_TIME = 4e-3;
/** And so often in all, as a way of a time-lapse takes hours. */
const MOST_LOOKS = 4096;

/** Takes up the bounds of an interval. */
export function enterInterval(out: MotionBounds, course: Course, interval: number): void {
  for (let axis = 0; axis < out.mostSpeed.length; axis++) {
    out.mostSpeed[axis] = CAUTION * course.bound(interval, axis, 1);
    out.mostAccel[axis] = CAUTION * course.bound(interval, axis, 2);
  }
  const isBounded = out.mostSpeed.every((speed) => speed < Infinity);
  const width = course.knots[interval + 1] - course.knots[interval];
  out.shortest = isBounded ? 0 : Math.max(LOOK_TIME, width / MOST_LOOKS);
}

/**
 * Takes up a span of the interval that was entered. Between two values `w` apart in time a value is off their chord by
 * accel · w² / 8 at most, and its speed off their mean speed by accel · w / 2.
 */
export function enterSpan(out: MotionBounds, space: Space, a: Placed, m: Placed, b: Placed): void {
  out.span += 1;
  const half = Math.max(m.t - a.t, b.t - m.t);
  const width = b.t - a.t;
  for (let axis = 0; axis < out.step.length; axis++) {
    const accel = out.mostAccel[axis];
    const ends = Math.max(Math.abs(a.values[axis] - m.values[axis]), Math.abs(b.values[axis] - m.values[axis]));
    const mean = width > 0 ? Math.abs(b.values[axis] - a.values[axis]) / width : 0;
    out.accel[axis] = accel;
    out.speed[axis] = Math.min(out.mostSpeed[axis], mean + (accel * width) / 2);
    out.step[axis] = width > 0 ? Math.min(out.mostSpeed[axis] * half, ends + (accel * half * half) / 8) : 0;
  }
  const { along, count } = space.chain;
  const { rotations } = m.pose;
  for (let joint = 0; joint < count; joint++) {
    if (space.moves[joint] !== 2) continue;
    const [x, y, z] = [along[3 * joint], along[3 * joint + 1], along[3 * joint + 2]];
    for (let row = 0; row < 3; row++) {
      const at = 9 * joint + 3 * row;
      out.along[3 * joint + row] = rotations[at] * x + rotations[at + 1] * y + rotations[at + 2] * z;
    }
  }
}

/**
 * Writes the row of one body for the span that was entered, from its own level to the set. Seen from one level after the other away
 * from its own link, a turn by q moves a point by at most 2 sin(|q| / 2) times its distance from the axis, and a slide by |q|;
 * of accelerations: x'' of a turning frame is x'' + 2 w x' + (w' + w²) r.
 */
export function writeBodyBounds(out: MotionBounds, space: Space, m: Placed, idx: number): void {
  if (out.written[idx] === out.span) return;
  out.written[idx] = out.span;
  const body = space.bodies[idx];
  const { count } = space.chain;
  const row = idx * (count + 1);
  const own = body.link + 1;
  out.shift[row + own] = 0;
  out.bend[row + own] = 0;
  if (body.table >= 0) {
    const { axis, at, along } = space.tables[body.table];
    const radius = axisDistance(m, idx, at, 0, along, 0) + body.convex.radius;
    if (0 <= axis) turned(out, axis, radius, row, row, 0);
    return;
  }
  if (body.link < 0) return;
  let speed = 0;
  for (let joint = body.link; 0 <= joint; joint--) {
    speed = passed(out, space, m, idx, joint, row + joint + 1, row + joint, speed);
  }
}

/** The same seen from the levels between a body's own and the camera, which carries the last link. */
export function writeCameraBounds(out: MotionBounds, space: Space, m: Placed, idx: number): void {
  const { count } = space.chain;
  const row = idx * (count + 1);
  const own = space.bodies[idx].link + 1;
  out.shift[row + own] = 0;
  out.bend[row + own] = 0;
  let speed = 0;
  for (let joint = own; joint < count; joint++) {
    speed = passed(out, space, m, idx, joint, row + joint, row + joint + 1, speed);
  }
}

/**
 * From level to level over one joint.
 *
 * @param from, to Where both levels stand in `shift` and `bend`.
 * @param speed    Most speed of the body's points, seen from the first [m/s].
 * @returns The same, seen from the second.
 */
function passed(
  out: MotionBounds,
  space: Space,
  m: Placed,
  idx: number,
  joint: number,
  from: number,
  to: number,
  speed: number,
): number {
  const axis = space.axisOf[joint];
  if (axis < 0 || out.mostSpeed[axis] === 0) {
    out.shift[to] = out.shift[from];
    out.bend[to] = out.bend[from];
    return speed;
  }
  if (space.moves[joint] === 1) {
    out.shift[to] = out.shift[from] + out.step[axis];
    out.bend[to] = out.bend[from] + out.accel[axis];
    return speed + out.speed[axis];
  }
  const { positions } = m.pose;
  const radius = axisDistance(m, idx, positions, 3 * joint, out.along, 3 * joint) + space.bodies[idx].convex.radius;
  return turned(out, axis, radius, from, to, speed);
}

function turned(out: MotionBounds, axis: number, radius: number, from: number, to: number, speed: number): number {
  const step = out.step[axis];
  const w = out.speed[axis];
  const shift = out.shift[from];
  out.shift[to] = shift + (step < Math.PI ? 2 * Math.sin(step / 2) : 2) * radius;
  // In between, points may be farther from the axis than at the middle.
  const reach = radius + shift;
  out.bend[to] = w < Infinity ? out.bend[from] + 2 * w * speed + (out.accel[axis] + w * w) * reach : Infinity;
  return speed + w * reach;
}

/** Distance of the centre of a body's ball from a line through `p[i ..]` along the unit vector `d[k ..]` [m]. */
function axisDistance(
  m: Placed,
  idx: number,
  p: ArrayLike<number>,
  i: number,
  d: ArrayLike<number>,
  k: number,
): number {
  const x = m.centres[3 * idx] - p[i];
  const y = m.centres[3 * idx + 1] - p[i + 1];
  const z = m.centres[3 * idx + 2] - p[i + 2];
  const u = y * d[k + 2] - z * d[k + 1];
  const v = z * d[k] - x * d[k + 2];
  const w = x * d[k + 1] - y * d[k];
  return Math.sqrt(u * u + v * v + w * w);
}

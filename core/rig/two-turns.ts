import { add, cross, dot, length, scale, subtract, type Vec3 } from "../base/vec3.ts";

/** Two turns in a row: first by `inner` about one direction, then by `outer` about another [rad]. */
export interface TwoTurns {
  readonly outer: number;
  readonly inner: number;
  /** False when no turns do it and these come nearest. */
  readonly exact: boolean;
}

/**
 * Turns that bring `from` onto `onto`: R(outer axis) · R(inner axis) · from = onto, for directions from a common centre
 * (the second of the subproblems of B. Paden and W. Kahan). The axes need not be square to each other.
 *
 * @param outerAxis, innerAxis Unit. Parallel axes have no answer.
 * @param from, onto Of equal length. Where they are not, the answer brings `from` to the height of `onto` along the outer
 *   axis and then towards it.
 * @returns None or two, the branches; two equal ones where they meet.
 */
export function twoTurns(outerAxis: Vec3, innerAxis: Vec3, from: Vec3, onto: Vec3): TwoTurns[] {
  const size = length(from);
  const square = cross(outerAxis, innerAxis);
  const sine2 = dot(square, square);
  if (sine2 < 1e-20) return [];
  // The point in between, c = α·outer + β·inner ± γ·(outer × inner), is on both circles.
  const cosine = dot(outerAxis, innerAxis);
  const [a, b] = [dot(outerAxis, onto), dot(innerAxis, from)];
  const alpha = (a - cosine * b) / sine2;
  const beta = (b - cosine * a) / sine2;
  const rest = size * size - alpha * alpha - beta * beta - 2 * alpha * beta * cosine;
  const gamma = Math.sqrt(Math.max(0, rest) / sine2);
  const flat = add(scale(outerAxis, alpha), scale(innerAxis, beta));
  return [gamma, -gamma].map((height) => {
    const between = add(flat, scale(square, height));
    return {
      outer: turnFromTo(outerAxis, between, onto),
      inner: turnFromTo(innerAxis, from, between),
      exact: -1e-12 * size * size <= rest,
    };
  });
}

/** Right-hand angle about the unit `axis` from `a` to `b`, both seen along the axis; 0 when either lies on it. */
export function turnFromTo(axis: Vec3, a: Vec3, b: Vec3): number {
  const p = subtract(a, scale(axis, dot(axis, a)));
  const q = subtract(b, scale(axis, dot(axis, b)));
  return Math.atan2(dot(axis, cross(p, q)), dot(p, q));
}

import type { Convex } from "./convex.ts";

/**
 * Writes the smallest box along the set's axes that holds a placed body: low x, y, z, then high x, y, z [m].
 *
 * @param rotation Row-major 3 x 3, from the body's frame to the set's.
 * @param position Of the body's origin [m].
 * @param out      Written from `out[at]` to `out[at + 5]`.
 */
export function placeBounds(
  body: Convex,
  rotation: ArrayLike<number>,
  position: ArrayLike<number>,
  out: Float64Array,
  at: number,
): void {
  for (let axis = 0; axis < 3; axis++) {
    const x = rotation[3 * axis];
    const y = rotation[3 * axis + 1];
    const z = rotation[3 * axis + 2];
    out[at + axis] = position[axis] - reachAlong(body, -x, -y, -z);
    out[at + axis + 3] = position[axis] + reachAlong(body, x, y, z);
  }
}

/** How far a body reaches along a unit vector of its own frame, from its origin [m]: its support function. */
export function reachAlong({ core, x, y, z, points, rounding }: Convex, u: number, v: number, w: number): number {
  switch (core) {
    case "point":
      return rounding;
    case "segment":
    case "box":
      return x * Math.abs(u) + y * Math.abs(v) + z * Math.abs(w) + rounding;
    case "cylinder":
      return x * Math.sqrt(u * u + v * v) + z * Math.abs(w) + rounding;
    case "points": {
      let most = -Infinity;
      for (let i = 0; i < points.length; i += 3) {
        most = Math.max(most, points[i] * u + points[i + 1] * v + points[i + 2] * w);
      }
      return most + rounding;
    }
  }
}

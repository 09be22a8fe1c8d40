import type { Convex } from "./convex.ts";
import { supportOf } from "./support.ts";

/**
 * How far a placed body reaches below a level floor, in closed form.
 *
 * @param rotation Row-major 3 x 3, from the body's frame to the set's.
 * @param position Of the body's origin [m].
 * @param height   Of the floor [m].
 * @param out      Shape (3,): the lowest point of the body [m].
 * @returns Depth of that point below the floor [m]; negative by its height where the body is above.
 */
export function depthBelow(
  body: Convex,
  rotation: ArrayLike<number>,
  position: ArrayLike<number>,
  height: number,
  out: Float64Array,
): number {
  supportOf(body, -rotation[6], -rotation[7], -rotation[8], out, 0);
  const x = out[0];
  const y = out[1];
  const z = out[2];
  out[0] = position[0] + rotation[0] * x + rotation[1] * y + rotation[2] * z;
  out[1] = position[1] + rotation[3] * x + rotation[4] * y + rotation[5] * z;
  out[2] = position[2] + rotation[6] * x + rotation[7] * y + rotation[8] * z - body.rounding;
  return height - out[2];
}

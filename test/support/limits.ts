// Limits for moves of tests.
import { seededRandom } from "../../core/base/random.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { AxisLimits } from "../../core/rig/resolved-rig.ts";
import { randomMove } from "./moves.ts";

/** The move with limits of axes and turntables by name; others have none. */
export function limited(move: ResolvedMove, limits: Readonly<Record<string, AxisLimits>>): ResolvedMove {
  return { ...move, axes: move.axes.map((axis) => ({ ...axis, limits: limits[axis.name] ?? {} })) };
}

/** `randomMove` with random limits, some left out: at times too tight for it, at times loose. */
export function randomLimitedMove(seed: number): ResolvedMove {
  const { move } = randomMove(seed);
  const random = seededRandom(seed + 1);
  const between = (low: number, high: number): number => low * (high / low) ** random();
  const axes = move.axes.map((axis) => {
    const size = axis.type === "linear" ? 1 : 2;
    const limits = {
      ...(random() < 0.9 && { speed: size * between(0.1, 1) }),
      ...(random() < 0.8 && { accel: size * between(0.2, 3) }),
      ...(random() < 0.7 && { jerk: size * between(1, 20) }),
    };
    return { ...axis, limits };
  });
  return { ...move, axes };
}

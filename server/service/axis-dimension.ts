import type { Dimension } from "../../core/base/dimension.ts";
import type { MoveAxis } from "../../core/motion/resolved-move.ts";
import type { Order } from "../../core/motion/trajectory.ts";

/** Dimension of an axis's derivative. */
export function dimensionOf({ type }: Pick<MoveAxis, "type">, order: Order): Dimension {
  const base = type === "rotary" ? "angle" : "length";
  return order === 0 ? base : `${base}-${(["speed", "accel", "jerk"] as const)[order - 1]}`;
}

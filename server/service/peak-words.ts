import { LIMITS, LIMIT_WORDS as WORDS } from "../../core/base/limits.ts";
import { formatQuantity } from "../../core/base/units.ts";
import type { Peak } from "../../core/motion/peaks.ts";
import type { Trajectory } from "../../core/motion/trajectory.ts";
import { dimensionOf } from "./axis-dimension.ts";

/** Of limits by the order of the derivative that they are of. */
export const LIMIT_WORDS = LIMITS.map((limit) => WORDS[limit]);

/** `70 % of 0.4 m/s`, `0.3 m from its end at -0.6 m`, `unbounded`. */
export function peakWords({ axes }: Trajectory, { axis, order, share, value, limit }: Peak): string {
  const shown = (size: number): string => formatQuantity(size, dimensionOf(axes[axis], order));
  if (order > 0) return `${percent(share)}${Number.isFinite(share) ? ` of ${shown(limit)}` : ""}`;
  if (share === 1) return `at its end ${shown(limit)}`;
  return `${shown(Math.abs(limit - value))} ${share > 1 ? "past" : "from"} its end ${shown(limit)}`;
}

/** `96 % of speed`, `80 % of the way to the end of its range`: without figures of its own. */
export function shareWords({ share, order }: Peak): string {
  return `${percent(share)} of ${order === 0 ? "the way to the end of its range" : LIMIT_WORDS[order]}`;
}

export function percent(share: number): string {
  return Number.isFinite(share) ? `${Math.round(share * 100)} %` : "unbounded";
}

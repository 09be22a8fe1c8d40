import { NO_ORIGIN, type OriginId } from "../../base/origin-id.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";

/** The target that is aimed at in an instant, the nearer one during a switch; `undefined` without an aim. */
export function subjectOf(
  move: ResolvedMove,
  { aimFrom, aimTo, aimBlend }: Instant,
): { name: string; origin: OriginId } {
  const idx = aimFrom < 0 || (aimTo >= 0 && aimBlend >= 0.5) ? aimTo : aimFrom;
  return move.targets[idx] ?? { name: "the subject", origin: NO_ORIGIN };
}

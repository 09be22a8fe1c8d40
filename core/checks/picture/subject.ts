import { NO_ORIGIN, type OriginId } from "../../base/origin-id.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";

/** The target that is aimed at in an instant, the nearer one during a switch; `undefined` without an aim. */
export function subjectOf(
  move: ResolvedMove,
  instant: Pick<Instant, "aimFrom" | "aimTo" | "aimBlend">,
): { name: string; origin: OriginId } {
  return move.targets[subjectIndex(instant)] ?? { name: "the subject", origin: NO_ORIGIN };
}

/** Its index into the move's targets; -1 without an aim. */
export const subjectIndex = ({ aimFrom, aimTo, aimBlend }: Pick<Instant, "aimFrom" | "aimTo" | "aimBlend">): number =>
  aimFrom < 0 || (aimTo >= 0 && aimBlend >= 0.5) ? aimTo : aimFrom;

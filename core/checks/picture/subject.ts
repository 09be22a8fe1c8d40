import { NO_ORIGIN, type OriginId } from "../../base/origin-id.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { subjectIndex } from "../../motion/subject-index.ts";
import type { Instant } from "../../motion/trajectory.ts";

/** The target that is aimed at in an instant, the nearer one during a switch; `undefined` without an aim. */
export function subjectOf(
  move: ResolvedMove,
  instant: Pick<Instant, "aimFrom" | "aimTo" | "aimBlend">,
): { name: string; origin: OriginId } {
  return move.targets[subjectIndex(instant)] ?? { name: "the subject", origin: NO_ORIGIN };
}

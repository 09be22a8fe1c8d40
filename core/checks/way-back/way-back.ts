import type { Task } from "../../base/task.ts";
import { wayBack } from "../../motion/way-back.ts";
import { axisAccel } from "../axes/axis-accel.ts";
import { axisJerk } from "../axes/axis-jerk.ts";
import { axisRange } from "../axes/axis-range.ts";
import { axisSpeed } from "../axes/axis-speed.ts";
import type { Check, CheckContext } from "../check.ts";
import { checkContext } from "../check-context.ts";
import type { Finding } from "../finding.ts";
import { gatherFindings } from "../gather.ts";
import { tipOver } from "../load/tip-over.ts";
import { clearance } from "../space/clearance.ts";
import { floor } from "../space/floor.ts";
import { selfClearance } from "../space/self-clearance.ts";
import { people } from "../people/people.ts";
import { isToldOfTake, onWayBack } from "./back-finding.ts";

/** What a way back is checked for: nobody films on it, so its picture is not looked at. */
const BACK_CHECKS: readonly Check[] = [
  axisRange,
  axisSpeed,
  axisAccel,
  axisJerk,
  clearance,
  selfClearance,
  floor,
  people,
  tipOver,
];

/**
 * Findings of the way back to the first key. A take that is gone back as it came, no faster than it came, passes the same
 * places at lower rates: all that there is to say was said of the take. Another way is checked as a take is.
 *
 * @param told What was found of the take.
 */
export function* wayBackFindings(
  { trajectory, seen }: CheckContext,
  told: readonly Finding[],
): Task<readonly Finding[]> {
  const { wayBack: asked } = trajectory.move;
  if (asked?.kind !== "direct") return [];
  const way = yield* wayBack(trajectory, seen.wayBack);
  if (!way) return [];
  seen.wayBack = way.record;
  const context = checkContext(way, seen, []);
  const found: Finding[] = [];
  for (const check of BACK_CHECKS) {
    found.push(...gatherFindings(yield* check.run(context)).filter((one) => !isToldOfTake(one, told)));
    yield;
  }
  return onWayBack(found, asked, way);
}

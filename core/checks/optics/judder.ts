import type { Task } from "../../base/task.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { segmentFacts } from "../segment-facts.ts";
import { LIMIT_SLACK } from "../thresholds.ts";
import { leastCrossing } from "./pan-rule.ts";
import { passingAxis, passingFaster, passingName, placeOf } from "./passing.ts";
import { strobingTables } from "./strobing.ts";

/**
 * `judder`: what the eye rests on crosses the frame in less time than common practice, or the move's own tolerance, allows;
 * and what turns on a table by half of its own repeat or more between two frames.
 */
export const judder: Check = {
  code: "judder",
  *run(context): Task<readonly Finding[]> {
    return [...(yield* crossings(context)), ...strobingTables(context)];
  },
};

function* crossings(context: CheckContext): Task<readonly Finding[]> {
  const { move } = context;
  const { optics, rate, deliver, tolerance } = move;
  const least = tolerance.crossing ?? leastCrossing(rate, optics.shutter);
  const width = deliver[0];
  return yield* passingFaster(context, "pace", (width / least) * (1 + LIMIT_SLACK), (passing) => {
    const { anchor, ...place } = placeOf(move, passing);
    const crossing = width / passing.value;
    const axis = passingAxis(move, passing.instant);
    const frame = rate.den / rate.num;
    return {
      code: "judder",
      severity: "warning",
      ...place,
      related: [
        {
          origin: tolerance.crossing === undefined ? (optics.shutterOrigin ?? 0) : move.toleranceOrigin,
          note: "limit",
        },
        ...place.related,
      ],
      ...(axis === undefined ? {} : { axis: move.axes[axis].name }),
      measured: crossing,
      limit: least,
      dimension: "time",
      evidence: "sampled",
      facts: {
        of: "crossing",
        ...passingName(move, passing.subject),
        ...segmentFacts(move, anchor, least / crossing),
        ...(axis === undefined
          ? {}
          : { axisSpeed: Math.abs(passing.instant.speed[axis]), axisType: move.axes[axis].type }),
        step: passing.value * frame,
        allowed: (width / least) * frame,
        by: tolerance.crossing === undefined ? "practice" : "tolerance",
        rate: rate.num / rate.den,
        shutter: optics.shutter,
      },
    };
  });
}

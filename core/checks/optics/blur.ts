import { exposureTime } from "../../lens/exposure.ts";
import type { Task } from "../../base/task.ts";
import { createPictureRoom, edgeSpeed } from "../../motion/picture-motion.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Check } from "../check.ts";
import type { Finding, SetValue } from "../finding.ts";
import { segmentFacts } from "../segment-facts.ts";
import { LIMIT_SLACK } from "../thresholds.ts";
import { passingFaster, passingName, placeOf } from "./passing.ts";

const DEG = Math.PI / 180;

/**
 * `blur`: the subject moves over more pixels while the shutter is open than the move says that it may. A move that says
 * nothing has no finding: that a pan smears is what one expects.
 */
export const blur: Check = {
  code: "blur",
  *run(context): Task<readonly Finding[]> {
    const { move } = context;
    const most = move.tolerance.blur;
    if (most === undefined) return [];
    const { optics, rate } = move;
    const exposure = exposureTime(optics.shutter, rate);
    const room = createPictureRoom();
    return yield* passingFaster(context, "speed", (most / exposure) * (1 + LIMIT_SLACK), (passing) => {
      const { anchor, ...place } = placeOf(move, passing);
      const measured = passing.value * exposure;
      return {
        code: "blur",
        severity: "warning",
        ...place,
        related: [
          { origin: move.toleranceOrigin, note: "limit" },
          ...place.related,
          { origin: optics.shutterOrigin ?? 0, note: "see" },
        ],
        measured,
        limit: most,
        dimension: "pixels",
        evidence: "sampled",
        facts: {
          ...passingName(move, passing.subject),
          ...segmentFacts(move, anchor, measured / most),
          edges: edgeSpeed(move, passing.instant, room) * exposure,
          exposure,
          shutter: optics.shutter,
        },
        sets: shorterShutter(move, measured / most),
      };
    });
  },
};

/** [rad] Steps in which a shutter is set, and the narrowest one that is offered. */
const SHUTTER_STEP = 0.1 * DEG;
const NARROWEST = 1 * DEG;

/** The shutter that blurs less by `need`, where the camera states one. */
function shorterShutter({ optics }: ResolvedMove, need: number): readonly SetValue[] {
  const { shutter, shutterOrigin = 0 } = optics;
  const steps = Math.floor(shutter / need / SHUTTER_STEP);
  const angle = steps * SHUTTER_STEP;
  if (shutterOrigin === 0 || !(NARROWEST <= angle)) return [];
  const value = `${(steps / 10).toFixed(1).replace(/\.0$/, "")} deg`;
  const stops = Math.log2(shutter / angle).toFixed(1);
  return [{ origin: shutterOrigin, value, title: `Set \`shutter\` to ${value}: ${stops} stops less light` }];
}

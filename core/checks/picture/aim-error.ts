import type { Task } from "../../base/task.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { Check } from "../check.ts";
import type { Finding } from "../finding.ts";
import { isWithoutView } from "./no-view.ts";
import { isLost } from "../path/path-check.ts";
import { subjectOf } from "./subject.ts";

/** `aim-error`: the framing reached is off the framing asked for by more than the move's tolerance. */
export const aimError: Check = {
  code: "aim-error",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const scan = yield* context.scan("poses");
    const all = move.keys.map((_, idx) => idx);
    // Where a path cannot be followed, that is what there is to say.
    const spans = yield* scan.above("miss", move.tolerance.aim);
    const missed = spans.filter((span) => !isLost(trajectory, span) && !isWithoutView(trajectory, span));
    return missed.map(({ from, to, worst, value }) => {
      const anchor = keyAt(move, all, worst);
      const key = move.keys[anchor.key];
      const subject = subjectOf(move, scan.look(worst));
      return {
        code: "aim-error",
        severity: "error",
        origin: key.aim?.origin || key.framingOrigin || anchor.origin,
        related: [
          { origin: move.toleranceOrigin, note: "limit" },
          { origin: subject.origin, note: "target" },
          ...segmentKeys(move, anchor),
        ],
        key: key.label,
        time: { from, to },
        peak: worst,
        measured: value,
        limit: move.tolerance.aim,
        dimension: "pixels",
        evidence: "sampled",
        facts: { target: subject.name },
      };
    });
  },
};

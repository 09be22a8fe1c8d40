import type { Task } from "../../base/task.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { Check } from "../check.ts";
import type { Finding } from "../finding.ts";
import { outsideCrop } from "../scan/measures.ts";
import { isWithoutView } from "./no-view.ts";
import { subjectOf } from "./subject.ts";
import { FRAME_SLACK } from "../thresholds.ts";

/** `out-of-frame`: what is aimed at leaves the delivered crop, or the captured picture with it. */
export const outOfFrame: Check = {
  code: "out-of-frame",
  *run(context): Task<readonly Finding[]> {
    const { move, trajectory } = context;
    const scan = yield* context.scan("poses");
    const all = move.keys.map((_, idx) => idx);
    const spans = (yield* scan.above("outside", FRAME_SLACK)).filter((span) => !isWithoutView(trajectory, span));
    return spans.map(({ from, to, worst, value }) => {
      const anchor = keyAt(move, all, worst);
      const key = move.keys[anchor.key];
      const instant = scan.look(worst);
      const [across, down] = instant.reached;
      const isBehind = Number.isNaN(across);
      const outsidePicture = isBehind ? Infinity : outsideCrop(move, across, down, move.optics.resolution);
      const isPicture = outsidePicture > FRAME_SLACK;
      const subject = subjectOf(move, instant);
      return {
        code: "out-of-frame",
        severity: "error",
        origin: key.framingOrigin || key.aim?.origin || anchor.origin,
        related: [
          { origin: isPicture ? 0 : move.deliverOrigin, note: "limit" },
          { origin: subject.origin, note: "target" },
          ...segmentKeys(move, anchor),
        ],
        key: key.label,
        time: { from, to },
        peak: worst,
        measured: isPicture ? outsidePicture : value,
        limit: 0,
        dimension: "pixels",
        evidence: "sampled",
        facts: {
          target: subject.name,
          of: isPicture ? "picture" : "crop",
          side: isBehind ? "behind" : side(across - 0.5, down - 0.5, move.optics.resolution),
          ...(isBehind ? {} : { across, down }),
        },
      };
    });
  },
};

/** The edge that is crossed by most pixels. */
function side(across: number, down: number, [w, h]: readonly [number, number]): string {
  const isAcross = Math.abs(across) * w - w / 2 >= Math.abs(down) * h - h / 2;
  if (isAcross) return across > 0 ? "right" : "left";
  return down > 0 ? "bottom" : "top";
}

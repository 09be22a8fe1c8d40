import { axisAnchor, segmentKeys } from "../anchor.ts";
import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { segmentFacts } from "../segment-facts.ts";
import { LIMIT_SLACK } from "../thresholds.ts";

/**
 * Tables on which something repeats so often, and which turn so fast, that frames cannot tell which way: by the sampling
 * theorem a pattern that goes on by half of its period or more from frame to frame cannot be told from one that goes back,
 * and one that goes on by whole periods seems to stand.
 */
export function strobingTables({ move, trajectory }: CheckContext): Finding[] {
  return trajectory.axes.flatMap((axis, idx) => {
    const repeats = move.turntables[axis.turntable]?.repeats;
    if (!repeats || trajectory.sources[idx] === "constant") return [];
    const period = (2 * Math.PI) / repeats.count;
    const frames = move.rate.num / move.rate.den;
    const limit = (period / 2) * frames;
    const bound = limit * (1 + LIMIT_SLACK);
    return trajectory.outside(idx, 1, -bound, bound).map(({ from, to, worst }): Finding => {
      const anchor = axisAnchor(trajectory, idx, worst.t, worst.side);
      const measured = Math.abs(worst.value);
      const periods = measured / (period * frames);
      const { keys } = move;
      return {
        code: "judder",
        severity: "warning",
        origin: anchor.origin,
        related: [{ origin: repeats.origin, note: "limit" }, ...segmentKeys(move, anchor)],
        key: keys[anchor.key].label,
        axis: axis.name,
        time: { from, to },
        peak: worst.t,
        measured,
        limit,
        dimension: "angle-speed",
        evidence: worst.evidence,
        facts: {
          of: "repeats",
          count: repeats.count,
          periods,
          seeming: seemingTurn(periods) * period * frames,
          ...segmentFacts(move, anchor, measured / limit),
        },
      };
    });
  });
}

/** Periods a frame that a pattern seems to go on by, from how far it goes: between -1/2 and 1/2. */
export const seemingTurn = (periods: number): number => periods - Math.round(periods);

import type { Peak } from "../scan/peak.ts";
import { leastApproach } from "../../space/approaches.ts";
import { clearanceSearch } from "../space/clearance.ts";
import type { Measured } from "./measured.ts";

/** Distances have a least that is told; how far off the rig gets at most is not asked, so that the least counts as both. */
export const leastClearance: Measured = {
  *extremes(context, { from, to }) {
    const search = clearanceSearch(context, "moving");
    const least = search && (yield* leastApproach(search, from, to));
    if (!least) {
      const none: Peak = { t: from, value: NaN };
      return { low: none, high: none, without: from };
    }
    const peak: Peak = { t: least.t, value: least.distance };
    return { low: peak, high: peak };
  },
  evidence: "sampled",
  without: "nothing stands in the set that could be measured",
};

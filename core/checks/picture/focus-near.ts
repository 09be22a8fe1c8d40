import type { Task } from "../../base/task.ts";
import type { ResolvedFocus, ResolvedMove } from "../../motion/resolved-move.ts";
import { keyAt, segmentKeys } from "../anchor.ts";
import type { Check } from "../check.ts";
import type { Finding } from "../finding.ts";
import { FOCUS_SLACK } from "../thresholds.ts";

/** `focus-near`: the focus distance, from the sensor plane along the view, is shorter than the lens's close focus. */
export const focusNear: Check = {
  code: "focus-near",
  *run(context): Task<readonly Finding[]> {
    const { move } = context;
    const scan = yield* context.scan("poses");
    const all = move.keys.map((_, idx) => idx);
    return (yield* scan.above("shortFocus", FOCUS_SLACK)).map(({ from, to, worst, value }) => {
      const anchor = keyAt(move, all, worst);
      const key = move.keys[anchor.key];
      const inForce = lastFocus(move, anchor.key);
      return {
        code: "focus-near",
        severity: "error",
        origin: key.focus?.origin || anchor.origin,
        related: [{ origin: move.optics.closeFocusOrigin, note: "limit" }, ...segmentKeys(move, anchor)],
        key: key.label,
        time: { from, to },
        peak: worst,
        measured: move.optics.closeFocus - value,
        limit: move.optics.closeFocus,
        dimension: "length",
        evidence: "sampled",
        facts: {
          lens: move.optics.lensName,
          target: inForce?.kind === "target" ? move.targets[inForce.target].name : "",
        },
      };
    });
  },
};

/** The focus statement in force at a key: its own or the last one before it. */
function lastFocus(move: ResolvedMove, key: number): ResolvedFocus | undefined {
  for (let idx = key; idx >= 0; idx--) {
    if (move.keys[idx].focus) return move.keys[idx].focus;
  }
  return undefined;
}

import { createArm, shareLeft, writeArm } from "../../load/arm.ts";
import { freeShare } from "../../load/feet.ts";
import { createStand, writeStand } from "../../load/stand.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Measure, Watch } from "../scan/scan.ts";

/** What masses do: -(share of the way to an edge of the feet), and the share of the load's moment that is left. */
export type LoadRow = "tip" | "arm";

/** One look for all that the masses of a move do; what its rig does not state is -Infinity. */
export function loadWatch(move: ResolvedMove): Watch<LoadRow> {
  const stand = createStand(move);
  const arm = createArm(move);
  const left = arm && armShare(move, arm.weight.mass);
  return {
    rows: ["tip", "arm"],
    look: stand ? "rates" : "poses",
    record(instant, out, at) {
      out[at] = out[at + 1] = -Infinity;
      if (stand) {
        writeStand(stand, move, instant);
        out[at] = orNone(-freeShare(stand.feet, stand.pull, 1));
      }
      if (left) out[at + 1] = left(instant, move);
    },
  };
}

/** What a counterweight of `mass` kg leaves of the load's moment, for a rig with an arm. */
export function armShare(move: ResolvedMove, mass: number): Measure {
  const arm = createArm(move);
  if (!arm) return () => -Infinity;
  return ({ value }) => {
    writeArm(arm, move, value);
    return orNone(shareLeft(arm.moment, mass));
  };
}

/** Nothing is said where the motion has no solution. */
const orNone = (value: number): number => (Number.isNaN(value) ? -Infinity : value);

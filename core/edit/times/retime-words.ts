import { formatQuantity } from "../../base/units.ts";
import { timeName } from "../../checks/message.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Unfitted } from "../../motion/retime-fit.ts";
import { LIMIT_NAMES, type LimitOrder, type LimitShare } from "../../motion/retime-shares.ts";

/** What the limit of an order is called. */
export const LIMIT_WORDS: Readonly<Record<LimitOrder, string>> = { 1: "speed", 2: "acceleration", 3: "jerk" };

/** Why a move cannot be fitted to its limits, in a sentence. */
export function unfittedReason(unfitted: Unfitted, move: ResolvedMove): string {
  switch (unfitted.status) {
    case "refused":
      return unfitted.reason;
    case "no-limits":
      return "No axis that moves states a limit of speed, acceleration or jerk, so nothing says how long the move must be.";
    case "still":
      return "No axis that has a limit moves, so nothing says how long the move must be.";
    case "unbounded":
      return `${axisName(unfitted.at, move)} would have to jump at ${timeName(unfitted.at.t, move)}, at whatever speed: no time cures that.`;
    case "not-by-time": {
      const { order } = unfitted.at;
      const what = `${axisName(unfitted.at, move)} breaks its ${LIMIT_WORDS[order]} limit (${limitOf(unfitted.at, move)})`;
      return `${what} however slow the move is: what it follows moves by itself.`;
    }
  }
}

const axisName = ({ axis }: LimitShare, move: ResolvedMove): string => move.axes[axis].name;

function limitOf({ axis, order }: LimitShare, move: ResolvedMove): string {
  const { type, limits } = move.axes[axis];
  const name = LIMIT_NAMES[order];
  return formatQuantity(limits[name] ?? 0, `${type === "linear" ? "length" : "angle"}-${name}`);
}

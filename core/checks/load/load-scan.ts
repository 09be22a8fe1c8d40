import type { Task } from "../../base/task.ts";
import { createArm, shareLeft, writeArm } from "../../load/arm.ts";
import { freeShare } from "../../load/feet.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { createStand, writeStand } from "../../load/stand.ts";
import type { CheckContext } from "../check.ts";
import { scanMove, type Measure, type Scan } from "../scan/scan.ts";

/** What of a move's loads is looked at, in the order of the scan's rows: -(share of the way to an edge), share left. */
const ROWS = ["tip", "arm"] as const;

export const loadRow = (name: (typeof ROWS)[number]): number => ROWS.indexOf(name);

const none: Measure = () => -Infinity;

/** One look at a move for all that its masses do: evaluating the motion costs more than weighing it. */
export function* loadScan({ move, trajectory, seen }: CheckContext): Task<Scan> {
  const stand = createStand(move);
  const arm = createArm(move);
  const tip: Measure = stand
    ? (instant) => {
        writeStand(stand, move, instant);
        return orNone(-freeShare(stand.feet, stand.pull, 1));
      }
    : none;
  const left = arm ? armShare(move, arm.weight.mass) : none;
  return yield* scanMove(trajectory, [tip, left], seen.table("loads"), stand ? "rates" : "poses");
}

/** What a counterweight of `mass` kg leaves of the load's moment, for a rig with an arm. */
export function armShare(move: ResolvedMove, mass: number): Measure {
  const arm = createArm(move);
  if (!arm) return none;
  return ({ value }) => {
    writeArm(arm, move, value);
    return orNone(shareLeft(arm.moment, mass));
  };
}

/** Nothing is said where the motion has no solution. */
const orNone = (value: number): number => (Number.isNaN(value) ? -Infinity : value);

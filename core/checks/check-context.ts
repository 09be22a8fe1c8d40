import type { Trajectory } from "../motion/trajectory.ts";
import type { CheckContext } from "./check.ts";
import { measureFunctions } from "./scan/measures.ts";
import { scanMove, type Scan } from "./scan/scan.ts";
import type { Seen } from "./seen.ts";

/** All that checks of one trajectory share. */
export function checkContext(trajectory: Trajectory, seen: Seen): CheckContext {
  let scan: Scan | undefined;
  return {
    move: trajectory.move,
    trajectory,
    seen,
    *scan() {
      scan ??= yield* scanMove(trajectory, measureFunctions, seen.rows);
      return scan;
    },
  };
}

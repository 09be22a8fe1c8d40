import type { Trajectory } from "../motion/trajectory.ts";
import type { CheckContext } from "./check.ts";
import { scanMove, type Scan } from "./scan/scan.ts";
import { makeWatch, watchedOf, type WatchName } from "./scan/watches.ts";
import type { Seen } from "./seen.ts";

/**
 * All that checks of one trajectory share.
 *
 * @param together What is looked at in one pass by whoever asks first; the rest by itself.
 */
export function checkContext(
  trajectory: Trajectory,
  seen: Seen,
  together: readonly WatchName[] = watchedOf(trajectory.move),
): CheckContext {
  const { move } = trajectory;
  const scans = new Map<string, Scan>();
  return {
    move,
    trajectory,
    seen,
    *scan(name) {
      const names = together.includes(name) ? together : [name];
      const all = names.join();
      let scan = scans.get(all);
      if (!scan) {
        const watches = names.map((one) => makeWatch(one, move));
        scan = yield* scanMove<string>(trajectory, watches, seen.table(`scan of ${all}`), seen.table(`between ${all}`));
        scans.set(all, scan);
      }
      return scan;
    },
  };
}

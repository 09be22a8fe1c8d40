import type { Task } from "../../base/task.ts";
import { approaches, type Approach } from "../../space/approaches.ts";
import type { Search } from "../../space/search.ts";
import type { CheckContext } from "../check.ts";

/** [m] Nearer than a bound by less than this is rounding. */
export const CLEARANCE_SLACK = 1e-6;

/**
 * All approaches nearer than `limit` [m]; those of intervals that were looked at before an edit are not looked for again.
 *
 * @param name Of the check: with the limit it tells what is kept apart.
 */
export function* keptApproaches(
  { trajectory, seen }: CheckContext,
  search: Search,
  limit: number,
  name: string,
): Task<readonly Approach[]> {
  const kept = seen.table<readonly Approach[]>(`${name} ${limit}`);
  return yield* approaches(search, limit - CLEARANCE_SLACK, function* (interval, find) {
    const key = trajectory.intervals[interval] as object | undefined;
    const known = (key && kept.get(key)) ?? (yield* find());
    if (key) kept.set(key, known);
    return known;
  });
}

import type { PlanRecord } from "../motion/plan-record.ts";

/**
 * What checks saw of the intervals of a trajectory: equal intervals need no second look after an edit. An interval that is
 * kept over an edit moves as before in an equal setting: rig, camera, set, place. Keys, rate, tolerances, passes and what
 * is expected may be others, so nothing that hangs on them is kept.
 */
export interface Seen {
  /** What one check keeps beside an interval, by a name of its own; always asked for with the same type. */
  table<T>(name: string): WeakMap<object, T>;
  /** What the plan of a way back of its own left to the next one. */
  wayBack?: PlanRecord;
}

export function createSeen(): Seen {
  const tables = new Map<string, WeakMap<object, unknown>>();
  return {
    table<T>(name: string) {
      const table = tables.get(name) ?? new WeakMap<object, unknown>();
      tables.set(name, table);
      return table as WeakMap<object, T>;
    },
  };
}

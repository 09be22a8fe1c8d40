import type { Trajectory } from "../../motion/trajectory.ts";

/** Values of rows at instants between the samples, by interval, row and time: what refining a peak looks at. */
export type NearRows = WeakMap<object, Map<string, Map<number, number>>>;

/** Instants of a row that are kept of an interval; with other bounds other instants are looked at. */
const MOST = 2000;

/** `at`, which looks at no instant twice in an interval that is kept over an edit. */
export function keptBetween(
  { knots, intervals }: Pick<Trajectory, "knots" | "intervals">,
  near: NearRows,
  row: string,
  at: (t: number) => number,
): (t: number) => number {
  let k = 0;
  return (t) => {
    // Instants are asked for one near the other.
    while (0 < k && t < knots[k]) k--;
    while (k + 2 < knots.length && knots[k + 1] <= t) k++;
    if (!(k in intervals)) return at(t);
    const interval = intervals[k];
    let rows = near.get(interval);
    if (!rows) near.set(interval, (rows = new Map()));
    let values = rows.get(row);
    if (!values || values.size >= MOST) rows.set(row, (values = new Map()));
    let value = values.get(t);
    if (value === undefined) values.set(t, (value = at(t)));
    return value;
  };
}

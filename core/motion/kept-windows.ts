import { sameNumbers } from "../base/same-data.ts";
import type { KnotRates } from "./jerk-bowl.ts";

/** A window of knots and the rates that were settled for it. */
export interface RateWindow {
  readonly times: Float64Array;
  readonly values: Float64Array;
  /** Speed and acceleration that were given at its first and its last knot, shape (4,). */
  readonly cuts: Float64Array;
  readonly rates: KnotRates;
}

/** Windows by the time that they begin at [s]. */
export type WindowMap = Map<number, RateWindow[]>;

/** Windows that the plan before settled, and those that this one needed, which are left to the next. */
export interface KeptWindows {
  readonly known?: WindowMap;
  readonly kept: WindowMap;
}

/**
 * The rates of a window: as they were settled for the same numbers before, to the last bit, else as `settle` makes them.
 *
 * @param rates In: those of the first and the last knot. Out: all.
 */
export function settledWindow(
  windows: KeptWindows | undefined,
  times: Float64Array,
  values: Float64Array,
  rates: KnotRates,
  settle: (times: Float64Array, values: Float64Array, rates: KnotRates) => void,
): void {
  const last = times.length - 1;
  const cuts = Float64Array.of(rates.speed[0], rates.accel[0], rates.speed[last], rates.accel[last]);
  const isSame = (one: RateWindow): boolean =>
    sameNumbers(one.times, times) && sameNumbers(one.values, values) && sameNumbers(one.cuts, cuts);
  const before = windows?.kept.get(times[0])?.find(isSame) ?? windows?.known?.get(times[0])?.find(isSame);
  if (before) {
    rates.speed.set(before.rates.speed);
    rates.accel.set(before.rates.accel);
  } else settle(times, values, rates);
  if (!windows) return;
  const window = before ?? { times: times.slice(), values: values.slice(), cuts, rates };
  const list = windows.kept.get(times[0]);
  if (!list) windows.kept.set(times[0], [window]);
  else if (!list.includes(window)) list.push(window);
}

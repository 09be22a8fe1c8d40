import type { CurveSpec } from "./curve-spec.ts";
import { extentOf, type Extent } from "./extents.ts";
import { wholeExtent } from "./line-store.ts";
import { firstFrom } from "../../core/base/sampling.ts";
import { isWhole, type TimeWindow } from "./time-window.ts";

/** Share of the height that stays free above and below. */
const MARGIN = 0.08;

/**
 * Lowest and highest value of a graph's scale: room for all of its lines and levels, the same at every zoom; fitted, for
 * what its lines do in the window alone.
 */
export function curveScale(spec: CurveSpec, window: TimeWindow, whole: number, isFitted: boolean): [number, number] {
  const fits = isFitted && !isWhole(window, whole);
  let [low, high] = [Infinity, -Infinity];
  const include = (from: number, to: number): void => {
    if (from < low) low = from;
    if (to > high) high = to;
  };
  const room: Extent = { low: NaN, high: NaN };
  for (const { extents } of spec.lines) {
    const { times } = extents.samples;
    const { low: a, high: b } = fits
      ? extentOf(extents, Math.max(0, firstFrom(times, window.from) - 1), firstFrom(times, window.to) + 1, room)
      : wholeExtent(extents);
    include(a, b);
  }
  if (!fits) for (const { at } of spec.levels) include(at, at);
  if (!(low <= high)) [low, high] = [0, 1];
  if (spec.ceiling !== undefined) high = Math.max(Math.min(high, spec.ceiling), Math.min(low, spec.ceiling));
  const margin = high > low ? (high - low) * MARGIN : Math.max(Math.abs(high) * 0.1, 0.01);
  return [low - margin, high + margin];
}

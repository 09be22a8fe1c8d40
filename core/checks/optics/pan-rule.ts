import type { Rate } from "../../base/rate.ts";

/**
 * The published rule of thumb for pans: what crosses the frame takes seven seconds at least, at 24 frames a second and a
 * shutter of 180 degrees. A starting point, no cliff.
 */
const SECONDS = 7;
const AT_RATE = 24;
const AT_SHUTTER = Math.PI;

/** A wide-open shutter fills each step with blur, which then is what is seen: the time is never cut to less than this. */
const LEAST_SHARE = 0.5;

/**
 * Least time to cross the frame's width [s].
 *
 * What is seen as judder is the step from frame to frame, so the rule holds as a number of frames, 168, at any rate. Of a
 * step the share that the shutter is open is filled by blur; with another shutter the gap that is left is kept as wide as
 * at 180 degrees (common practice, no source).
 *
 * @param shutter Shutter angle [rad], 0 < shutter <= 2 pi.
 */
export function leastCrossing({ num, den }: Pick<Rate, "num" | "den">, shutter: number): number {
  const gap = (1 - shutter / (2 * Math.PI)) / (1 - AT_SHUTTER / (2 * Math.PI));
  return ((SECONDS * AT_RATE * den) / num) * Math.max(LEAST_SHARE, gap);
}

import type { MotorScale } from "./lens-motor.ts";

/** Sizes that derivatives 1 to 3 of the curve of a slope of 1 (`LEAN` of `row-curves.ts`) do not pass on 0..1. */
const LEAN_MOST = [1, 6.1455, 39.86] as const;

/**
 * Sizes that derivatives 1 to 3 of a scale's angle by place do not pass from `low` to `high`. Between two rows the scale is
 * their chord, and what each slope has beyond the chord's along the curve of a slope.
 */
export function boundScale(
  { places, angles, slopes }: MotorScale,
  low: number,
  high: number,
): [number, number, number] {
  const last = places.length - 1;
  // Beyond its ends a scale goes straight on.
  const most: [number, number, number] = [Math.max(Math.abs(slopes[0]), Math.abs(slopes[last])), 0, 0];
  for (let row = 0; row < last; row++) {
    if (places[row + 1] < low || high < places[row]) continue;
    const step = places[row + 1] - places[row];
    const chord = (angles[row + 1] - angles[row]) / step;
    const lean = Math.abs(slopes[row] - chord) + Math.abs(slopes[row + 1] - chord);
    most[0] = Math.max(most[0], Math.abs(chord) + lean * LEAN_MOST[0]);
    most[1] = Math.max(most[1], (lean * LEAN_MOST[1]) / step);
    most[2] = Math.max(most[2], (lean * LEAN_MOST[2]) / (step * step));
  }
  return most;
}

import type { Rate } from "../base/rate.ts";

/** How long the shutter is open for each frame [s]: its angle [rad] as a share of a whole turn, which takes one frame. */
export function exposureTime(shutter: number, { num, den }: Pick<Rate, "num" | "den">): number {
  return (shutter / (2 * Math.PI)) * (den / num);
}

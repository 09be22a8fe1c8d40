import { parseTime } from "../../base/timecode.ts";
import type { Rate } from "../../base/rate.ts";
import { shortestDecimal } from "../decimal.ts";
import { writeTime, type TimeStyle } from "./written-time.ts";

/** How exactly a time is written [s]. */
const EXACT = 1e-10;

/**
 * A time [s] in a style, to 1e-10 s: frames and labels where it is a whole number of frames, else seconds.
 *
 * @param offset The frame that a label counts from.
 */
export function exactTime(time: number, style: TimeStyle, rate: Rate, offset: number): string {
  const isRight = (written: string): boolean => {
    const parsed = parseTime(written, rate, offset);
    return parsed.ok && Math.abs(parsed.value - time) <= EXACT;
  };
  if (style.kind !== "seconds") {
    const written = writeTime(time, style, rate, offset);
    if (isRight(written)) return written;
  }
  const { unit, size } = style.kind === "seconds" ? style : { unit: " s", size: 1 };
  return `${shortestDecimal(time / size, (number) => isRight(number + unit)) ?? time / size}${unit}`;
}

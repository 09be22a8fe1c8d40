import { frameAt, type Rate } from "../../../core/base/rate.ts";
import { formatTimecode, parseTime } from "../../../core/base/timecode.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import type { Scalar } from "../../../core/syntax/tree.ts";

/**
 * A written time in all notations: seconds, frames and a label. One that is counted from another time, such as a hold, has no
 * label of its own.
 */
export function timeHover(
  { rate, startFrame }: { readonly rate: Rate; readonly startFrame: number },
  written: Scalar,
  isSpan: boolean,
): string | undefined {
  if (typeof written !== "string" && typeof written !== "number") return undefined;
  const time = parseTime(written, rate, isSpan ? 0 : startFrame);
  if (!time.ok) return undefined;
  const frame = frameAt(rate, time.value);
  const frames = `${frame} frames`;
  const parts = isSpan ? [frames] : [`frame ${frame}`, formatTimecode(startFrame + frame, rate)];
  return `As written: ${[formatQuantity(time.value, "time"), ...parts].join(", ")}.`;
}

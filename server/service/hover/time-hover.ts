import { frameAt, frameTime, formatRate, parseRate, type Rate } from "../../../core/base/rate.ts";
import { formatTimecode, parseTime, parseTimecode } from "../../../core/base/timecode.ts";
import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import type { Scalar } from "../../../core/syntax/tree.ts";

interface Timed {
  readonly rate: Rate;
  readonly startFrame: number;
}

/**
 * A written time in all notations: seconds, frames and a label. One that is counted from another time, such as a hold, has no
 * label of its own. Without a rate, as in a set, there are neither frames nor a label.
 */
export function timeHover(timed: Timed | undefined, written: Scalar, isSpan: boolean): string | undefined {
  if (typeof written !== "string" && typeof written !== "number") return undefined;
  if (!timed) {
    const seconds = parseTime(written, parseRate(25)!, 0);
    const isPlain = typeof written === "number" || !/[f:;]/.test(written);
    return seconds.ok && isPlain ? `As written: ${formatQuantity(seconds.value, "time")}.` : undefined;
  }
  const { rate, startFrame } = timed;
  const time = parseTime(written, rate, isSpan ? 0 : startFrame);
  if (!time.ok) return undefined;
  const frame = frameAt(rate, time.value);
  const between = Math.abs(frameTime(rate, frame) - time.value) > 1e-6;
  // A time between two frames is shown by the one that is on the screen then.
  const parts = isSpan
    ? [`${trimmed((time.value * rate.num) / rate.den, 2)} frames`]
    : [`frame ${frame}`, formatTimecode(startFrame + frame, rate)];
  const remarks = [...(between && !isSpan ? ["between two frames"] : []), ...(rate.drop ? [dropWords(rate)] : [])];
  const remark = remarks.length === 0 ? "" : ` (${remarks.join("; ")})`;
  return `As written: ${[formatQuantity(time.value, "time"), ...parts].join(", ")}${remark}.`;
}

/** The label of the first frame, as the number of frames that it counts. */
export function labelHover({ rate }: Timed, written: Scalar): string | undefined {
  const label = typeof written === "string" ? parseTimecode(written, rate) : undefined;
  if (!label?.ok) return undefined;
  const drop = rate.drop ? ` (${dropWords(rate)})` : "";
  return `${formatTimecode(label.value, rate)} is the label of frame ${label.value} since 00:00:00:00 at ${formatRate(rate)}${drop}.`;
}

/** A rate: how long a frame lasts, and how its labels count. */
export function rateHover(written: Scalar): string | undefined {
  const rate = typeof written === "string" || typeof written === "number" ? parseRate(written) : undefined;
  if (!rate) return undefined;
  const exact = rate.den === 1 ? "" : `, exactly ${rate.num}/${rate.den} frames a second`;
  const drop = rate.drop ? `; ${dropWords(rate)}` : "";
  return `A frame lasts ${trimmed((1000 * rate.den) / rate.num, 4)} ms${exact}; labels count ${rate.nominal} frames a second${drop}.`;
}

function dropWords(rate: Rate): string {
  return `labels drop: ${rate.nominal / 15} are left out each minute but every tenth`;
}

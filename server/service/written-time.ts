import { frameTime, type Rate } from "../../core/base/rate.ts";
import { formatTimecode, looksLikeTimecode } from "../../core/base/timecode.ts";
import { parseQuantity, trimmed } from "../../core/base/units.ts";
import type { ScalarNode } from "../../core/syntax/tree.ts";

/** How a time stands in the text: what it counts in, so that another time can be written the same way. */
export type TimeStyle =
  | { readonly kind: "seconds"; readonly unit: string; readonly size: number }
  | { readonly kind: "frames"; readonly unit: string }
  | { readonly kind: "label" };

/** Decimals of a second that are written at most: 0.1 ms is far below a frame. */
const DECIMALS = 4;
const STEP = 10 ** -DECIMALS;
/** Rounding up forgives so much, in steps, or 2.4 s would become 2.4001 s. */
const SLACK = 1e-6;

/** The style of a written time, `undefined` when it is not one. */
export function timeStyle(written: ScalarNode["value"]): TimeStyle | undefined {
  if (typeof written === "number") return { kind: "seconds", unit: "", size: 1 };
  if (typeof written !== "string") return undefined;
  if (looksLikeTimecode(written)) return { kind: "label" };
  const match = /^[+-]?[\d.]+(?:[eE][+-]?\d+)?(\s*)([a-z]*)$/.exec(written.trim());
  if (!match) return undefined;
  const [, space, unit] = match;
  if (unit === "f" || unit === "frame" || unit === "frames") return { kind: "frames", unit: space + unit };
  const size = unit === "" ? 1 : secondsOf(unit);
  return size === undefined ? undefined : { kind: "seconds", unit: space + unit, size };
}

function secondsOf(unit: string): number | undefined {
  const parsed = parseQuantity(`1 ${unit}`, "time");
  return parsed.ok ? parsed.value : undefined;
}

/** The smallest time that can be written in all of `styles` and is not less than `time` [s]. */
export function roundUp(time: number, styles: readonly TimeStyle[], rate: Rate): number {
  const isFrames = styles.some((style) => style.kind !== "seconds");
  const step = isFrames ? frameTime(rate, 1) : STEP;
  return Math.ceil(time / step - SLACK) * step;
}

/** A time [s] in a style; `offset` is the frame that a label counts from. Whole frames in the styles that count them. */
export function writeTime(time: number, style: TimeStyle, rate: Rate, offset: number): string {
  const frame = Math.round((time * rate.num) / rate.den);
  if (style.kind === "label") return formatTimecode(offset + frame, rate);
  if (style.kind === "frames") return `${frame}${style.unit}`;
  // Units longer than a second keep the same fineness.
  const decimals = DECIMALS + Math.max(0, Math.ceil(Math.log10(style.size)));
  return `${trimmed(time / style.size, decimals)}${style.unit}`;
}

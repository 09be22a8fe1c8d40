import { frameTime, type Rate } from "../../base/rate.ts";
import { formatTimecode, looksLikeTimecode } from "../../base/timecode.ts";
import { parseQuantity, trimmed } from "../../base/units.ts";
import type { Scalar } from "../../syntax/tree.ts";

/** How a time stands in the text: what it counts in, so that another time can be written the same way. */
export type TimeStyle =
  | { readonly kind: "seconds"; readonly unit: string; readonly size: number }
  | { readonly kind: "frames"; readonly unit: string }
  | { readonly kind: "label" };

/** Decimals of a second that are written at most: 0.1 ms is far below a frame, and 0.1 % of the shortest ways. */
const DECIMALS = 4;
/** Rounding up forgives so much, in steps, or 2.4 s would become 2.4001 s. */
const SLACK = 1e-5;

/** The style of a written time, `undefined` when it is not one. */
export function timeStyle(written: Scalar): TimeStyle | undefined {
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

/** Units longer than a second get as many decimals more as keep the fineness; shorter ones need fewer. */
function decimalsOf(size: number): number {
  return Math.max(0, DECIMALS + Math.ceil(Math.log10(size) - 1e-9));
}

/** By how much times in a style differ at least [s]. */
export function stepOf(style: TimeStyle, rate: Rate): number {
  return style.kind === "seconds" ? style.size * 10 ** -decimalsOf(style.size) : frameTime(rate, 1);
}

/** The earliest time not before `time` that a style can write [s]. */
export function roundUp(time: number, style: TimeStyle, rate: Rate): number {
  const step = stepOf(style, rate);
  return Math.ceil(time / step - SLACK) * step;
}

/** The latest time not after `time` that a style can write, one step at least [s]. */
export function roundDown(time: number, style: TimeStyle, rate: Rate): number {
  const step = stepOf(style, rate);
  return Math.max(1, Math.floor(time / step + SLACK)) * step;
}

/** A time [s] in a style; `offset` is the frame that a label counts from. Whole frames in the styles that count them. */
export function writeTime(time: number, style: TimeStyle, rate: Rate, offset: number): string {
  const frame = Math.round((time * rate.num) / rate.den);
  if (style.kind === "label") return formatTimecode(offset + frame, rate);
  if (style.kind === "frames") return `${frame}${style.unit}`;
  return `${trimmed(time / style.size, decimalsOf(style.size))}${style.unit}`;
}

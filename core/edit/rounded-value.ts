import type { Dimension } from "../base/dimension.ts";
import { parseQuantity, trimmed } from "../base/units.ts";
import type { Scalar } from "../syntax/tree.ts";

/** How a value stands in the text: what it counts in, so that another value can be written the same way. */
export interface ValueStyle {
  /** With the blanks before it; empty for a bare number. */
  readonly unit: string;
  /** SI value of 1 as it is written. */
  readonly size: number;
  /** Decimals that are written at most. */
  readonly decimals: number;
}

/** What new values are told to, SI: 1 mm, 0.1 deg, a thousandth of a picture. */
export type Fineness = Readonly<Partial<Record<Dimension, number>>>;

const FINENESS: Fineness = { length: 1e-3, angle: (0.1 * Math.PI) / 180, number: 1e-3 };
/** Rounding away forgives so much, in steps, or 14.2 would become 14.3. */
const SLACK = 1e-6;

/** A value of a text, SI, and the style that it is written in; `undefined` for what is no quantity of `dimension`. */
export function readValue(
  written: Scalar,
  dimension: "length" | "angle" | "number",
): { readonly value: number; readonly style: ValueStyle } | undefined {
  if (typeof written !== "number" && typeof written !== "string") return undefined;
  const parsed = parseQuantity(written, dimension);
  const unit = typeof written === "string" ? /^[+-]?[\d.]+(?:[eE][+-]?\d+)?(.*)$/s.exec(written.trim())?.[1] : "";
  if (!parsed.ok || unit === undefined) return undefined;
  const one = parseQuantity(`1${unit}`, dimension);
  if (!one.ok) return undefined;
  const step = FINENESS[dimension] ?? 1e-3;
  const decimals = Math.max(0, Math.ceil(Math.log10(one.value / step) - 1e-9));
  return { value: parsed.value, style: { unit, size: one.value, decimals } };
}

/** By how much values in a style differ at least, SI. */
export const valueStep = ({ size, decimals }: ValueStyle): number => size * 10 ** -decimals;

/** The nearest value that a style can write to `value` [SI], on the side of `way`: up for 1, down for -1. */
export function roundAway(value: number, way: 1 | -1, style: ValueStyle): number {
  const steps = way * (value / valueStep(style));
  return way * Math.ceil(steps - SLACK) * valueStep(style);
}

/** A value [SI] in a style. */
export const writeValue = (value: number, { unit, size, decimals }: ValueStyle): string =>
  `${trimmed(value / size, decimals)}${unit}`;

/**
 * Of the last digit that is written: far less than what is rounded away, more than machines and units differ in. A value
 * half way between two written ones, of which a symmetric move has many, is so written as the same one everywhere.
 */
const BIAS = 1e-4;

/** A number as a snapshot writes it: at most `digits` decimals, no `-0`. */
export function steady(value: number, digits: number): string {
  if (!Number.isFinite(value)) return "unbounded";
  const size = 10 ** digits;
  const rounded = Math.floor(value * size + 0.5 + BIAS) / size;
  const text = rounded.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
}

/** The same without zeros at its end. */
export function brief(value: number, digits: number): string {
  const text = steady(value, digits);
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}

/** A place on the page [px]. */
export const place = (px: number): string => brief(px, 1);

/** The whole number at or below, and at or above, for a value that may stand on one. */
export const below = (value: number): number => Math.floor(value + BIAS);
export const above = (value: number): number => Math.ceil(value - BIAS);

/** 1, 2, 2.5 or 5 times a power of ten, the first at or above `value`, which is more than 0. */
export function niceStep(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value) - BIAS);
  const digit = [1, 2, 2.5, 5].find((one) => value <= one * power * (1 + BIAS)) ?? 10;
  return digit * power;
}

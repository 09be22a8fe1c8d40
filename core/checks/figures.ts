import type { Dimension } from "../base/dimension.ts";
import { displayUnit, formatQuantity, trimmed } from "../base/units.ts";

/** Digits after which two figures that still look alike are taken as alike. */
const MOST_DIGITS = 9;

/**
 * A measured value and its limit as people read them, with as many digits as it takes to see that they differ:
 * `34.2 deg/s` and `30 deg/s`, but `30.004 deg/s` and `30 deg/s`.
 */
export function comparedFigures(measured: number, limit: number, dimension: Dimension): [string, string] {
  const plain: [string, string] = [rounded(measured, dimension), formatQuantity(limit, dimension)];
  if (measured === limit || plain[0] !== plain[1]) return plain;
  const { unit, size } = displayUnit(dimension);
  for (let digits = 3; digits <= MOST_DIGITS; digits++) {
    const [a, b] = [trimmed(measured / size, digits), trimmed(limit / size, digits)];
    if (a !== b) return [`${a} ${unit}`.trim(), `${b} ${unit}`.trim()];
  }
  return plain;
}

/** A measured figure with three or four digits that count: 34.2 deg/s, 1.42 m/s2, 0.0231 m/s. */
function rounded(value: number, dimension: Dimension): string {
  const { unit, size } = displayUnit(dimension);
  const shown = Math.abs(value / size);
  const isPlace = dimension === "length" || dimension === "pixels";
  if (isPlace || !Number.isFinite(value) || shown === 0) return formatQuantity(value, dimension);
  const digits = Math.min(6, Math.max(shown < 1000 ? 1 : 0, 2 - Math.floor(Math.log10(shown))));
  return `${trimmed(value / size, digits)} ${unit}`;
}

/** `14 %`, `0.4 %`, and for much more than a limit `3.2 times`. */
export function excess(measured: number, limit: number, of = "its limit"): string {
  const share = measured / limit - 1;
  if (!Number.isFinite(share)) return `far above ${of}`;
  if (share >= 1) return `${trimmed(share + 1, 1)} times ${of}`;
  return `${percent(share)} above ${of}`;
}

/** A share as a percentage with digits enough not to be 0. */
export function percent(share: number): string {
  const value = share * 100;
  if (value >= 9.95) return `${value.toFixed(0)} %`;
  if (value >= 0.05) return `${trimmed(value, 1)} %`;
  return "less than 0.1 %";
}

/** `2.8 s`, `0.36 s`. */
export const seconds = (time: number): string => `${trimmed(time, time < 1 ? 3 : 2)} s`;

/** Rounded up, so that it is enough: 2.801 s is 2.81 s. */
export function secondsUp(time: number): string {
  const step = time < 1 ? 1000 : 100;
  return seconds(Math.ceil(time * step - 1e-9) / step);
}

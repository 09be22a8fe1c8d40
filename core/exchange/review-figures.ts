import type { Dimension } from "../base/dimension.ts";
import { comparedFigures, percent } from "../checks/figures.ts";
import { formatQuantity } from "../base/units.ts";
import type { Amount, LargestChange } from "../review/review.ts";

/** A quantity that is not shown as 0 unless it is: 0.0001 deg, not 0 deg. */
export function figure(value: number, dimension: Dimension): string {
  if (dimension === "time" && value !== 0 && 0.0005 <= Math.abs(value)) return formatQuantity(value, dimension);
  return comparedFigures(value, 0, dimension)[0];
}

/** How far something went, with its sign: `+0.4 s`. */
export function signedFigure(value: number, dimension: Dimension): string {
  return `${value > 0 ? "+" : ""}${figure(value, dimension)}`;
}

/** Both sides with as many digits as it takes to see that they differ; empty for a side without one. */
export function amountFigures({ before, after, dimension }: Amount): { readonly was: string; readonly is: string } {
  if (before === undefined || after === undefined) return { was: one(before, dimension), is: one(after, dimension) };
  const [was, is] = [one(before, dimension), one(after, dimension)];
  if (dimension === "share" && was !== is) return { was, is };
  const [second, first] = comparedFigures(after, before, dimension);
  return { was: first, is: second };
}

function one(value: number | undefined, dimension: Dimension): string {
  if (value === undefined) return "";
  return dimension === "share" && Number.isFinite(value) ? percent(value) : formatQuantity(value, dimension);
}

/** The signed change between both sides, empty where one has none or they are the same. */
export function amountChange({ before, after, dimension }: Amount): string {
  if (before === undefined || after === undefined || before === after) return "";
  return signedFigure(after - before, dimension);
}

/** `up to 34.2 px`. */
export const largestFigure = ({ value, dimension }: LargestChange): string => `up to ${figure(value, dimension)}`;

/** Whether anything is seen of a change at the digits that figures have; smaller ones are rounding. */
export const isSeen = ({ before, after, dimension }: Amount): boolean =>
  before !== after && (before === undefined || after === undefined || NOISE[dimension] < Math.abs(after - before));

/** Below this a change of an effect is rounding of the way that it was found, not a change [SI, px]. */
const NOISE: Readonly<Record<Dimension, number>> = {
  length: 1e-7,
  angle: 1e-9,
  time: 1e-9,
  mass: 1e-9,
  share: 1e-6,
  pixels: 1e-3,
  number: 1e-9,
  power: 1e-6,
  energy: 1e-6,
  "length-speed": 1e-9,
  "length-accel": 1e-9,
  "length-jerk": 1e-9,
  "angle-speed": 1e-9,
  "angle-accel": 1e-9,
  "angle-jerk": 1e-9,
};

/** `1 move`, `2 moves`. */
export const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? "" : "s"}`;

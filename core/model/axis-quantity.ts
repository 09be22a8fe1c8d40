import type { Dimension } from "../base/dimension.ts";
import { parseQuantity } from "../base/units.ts";
import type { Written } from "../schema/field-types.ts";
import type { Stated } from "./declared.ts";
import { replacement, report, type Reporter } from "./report.ts";

export type AxisType = "linear" | "rotary";

const DIMENSIONS: Readonly<Record<AxisType, readonly [Dimension, Dimension, Dimension, Dimension]>> = {
  linear: ["length", "length-speed", "length-accel", "length-jerk"],
  rotary: ["angle", "angle-speed", "angle-accel", "angle-jerk"],
};

/** Dimension of an axis's value (0), speed (1), acceleration (2) or jerk (3). */
export const axisDimension = (type: AxisType, order: 0 | 1 | 2 | 3): Dimension => DIMENSIONS[type][order];

/** A quantity whose dimension is known now, in SI, or `undefined` after a finding that begins with `label`. */
export function resolveQuantity(
  to: Reporter,
  stated: Stated<Written>,
  dimension: Dimension,
  label: string,
): number | undefined {
  const parsed = parseQuantity(stated.value, dimension);
  if (parsed.ok) return parsed.value;
  const cures = parsed.cure === undefined ? {} : { cures: [replacement(to, stated.span, parsed.cure)] };
  report(to, parsed.code, stated.span, `\`${label}\`: ${parsed.message}.`, cures);
  return undefined;
}

/** The same, and it must be above 0, or 0 or more where `zero` is allowed. */
export function resolvePositive(
  to: Reporter,
  stated: Stated<Written>,
  dimension: Dimension,
  label: string,
  zero: "zero" | "no-zero",
): number | undefined {
  const value = resolveQuantity(to, stated, dimension, label);
  if (value === undefined || value > 0 || (value === 0 && zero === "zero")) return value;
  const bound = zero === "zero" ? "0 or more" : "more than 0";
  report(to, "bad-number", stated.span, `\`${label}\`: \`${stated.value}\` is not taken: it must be ${bound}.`);
  return undefined;
}

import type { Dimension } from "../base/dimension.ts";
import { parseRate } from "../base/rate.ts";
import { parseTime, parseTimecode } from "../base/timecode.ts";
import { DIMENSIONS } from "../base/unit-table.ts";
import { parseQuantity } from "../base/units.ts";
import type { ScalarFacts } from "../schema/facts.ts";
import { valueOf, type MapNode, type Scalar, type TreeNode } from "../syntax/tree.ts";
import { fieldShapes, itemShapes, type Shapes } from "./shapes.ts";
import type { Timing } from "./sides.ts";

/** Relative difference below which two numbers are one that was written in two units. */
const ROUNDING = 1e-12;

/** Whether two values mean the same at a place of a document: `12 in` and `304.8 mm`, `50 f` and `2 s`, names in another order. */
export function isSameMeaning(
  one: TreeNode | undefined,
  other: TreeNode | undefined,
  shapes: Shapes,
  timing: Timing | undefined,
): boolean {
  const [a, b] = [valueOf(one), valueOf(other)];
  if (a === undefined || b === undefined) return a === b;
  if (a.kind === "scalar") return b.kind === "scalar" && isSameScalar(a.value, b.value, shapes, timing);
  if (a.kind === "map") return b.kind === "map" && isSameMap(a, b, shapes, timing);
  if (b.kind !== "list" || a.items.length !== b.items.length) return false;
  return a.items.every((item, i) => isSameMeaning(item, b.items[i], itemShapes(shapes, i), timing));
}

function isSameMap(a: MapNode, b: MapNode, shapes: Shapes, timing: Timing | undefined): boolean {
  if (a.entries.length !== b.entries.length) return false;
  return a.entries.every(({ name, value }) => {
    const same = b.entries.find((entry) => entry.name === name);
    return same !== undefined && isSameMeaning(value, same.value, fieldShapes(shapes, name), timing);
  });
}

function isSameScalar(a: Scalar, b: Scalar, shapes: Shapes, timing: Timing | undefined): boolean {
  if (Object.is(a, b)) return true;
  if (!isWritten(a) || !isWritten(b)) return false;
  return shapes.some((shape) => shape.kind === "scalar" && isSameWritten(a, b, shape.facts, timing));
}

type Written = number | string;
const isWritten = (value: Scalar): value is Written => typeof value === "number" || typeof value === "string";

function isSameWritten(a: Written, b: Written, facts: ScalarFacts, timing: Timing | undefined): boolean {
  switch (facts.type) {
    case "quantity":
      return isSameQuantity(a, b, [facts.dimension]);
    case "axis-quantity":
      return isSameQuantity(a, b, AXIS_DIMENSIONS[facts.order]);
    case "ratio":
    case "written":
      // Without the axis or the quantity a bare number has no unit that could be compared.
      return hasUnit(a) && hasUnit(b) && isSameQuantity(a, b, Object.keys(DIMENSIONS) as Dimension[]);
    case "time":
      return isNear(writtenTime(a, timing), writtenTime(b, timing));
    case "label":
      return timing !== undefined && isNear(labelOf(a, timing), labelOf(b, timing));
    case "rate":
      return isSameRate(a, b);
    case "count":
    case "text":
    case "name":
    case "reference":
    case "move-key":
    case "measure":
      return String(a).trim() === String(b).trim();
    case "word":
    case "flag":
    case "version":
      return false;
  }
}

const AXIS_DIMENSIONS: readonly (readonly Dimension[])[] = [
  ["length", "angle"],
  ["length-speed", "angle-speed"],
  ["length-accel", "angle-accel"],
  ["length-jerk", "angle-jerk"],
];

/** The same number in a dimension that can hold both, and both bare only where they are the same as they stand. */
function isSameQuantity(a: Written, b: Written, dimensions: readonly Dimension[]): boolean {
  return dimensions.some((dimension) => {
    const [one, other] = [parseQuantity(a, dimension), parseQuantity(b, dimension)];
    return one.ok && other.ok && isNear(one.value, other.value);
  });
}

const hasUnit = (value: Written): boolean => typeof value === "string" && /[^\d\s.+\-eE]/.test(value);

/** Seconds, or `undefined` for frames and labels whose rate is not known and for what is no time. */
export function writtenTime(value: Written, timing: Timing | undefined): number | undefined {
  const parsed = timing ? parseTime(value, timing.rate, timing.startFrame) : parseQuantity(value, "time");
  return parsed.ok ? parsed.value : undefined;
}

function labelOf(value: Written, { rate }: Timing): number | undefined {
  const parsed = parseTimecode(String(value), rate);
  return parsed.ok ? parsed.value : undefined;
}

function isSameRate(a: Written, b: Written): boolean {
  const [one, other] = [parseRate(a), parseRate(b)];
  if (!one || !other) return false;
  return one.num === other.num && one.den === other.den && one.nominal === other.nominal && one.drop === other.drop;
}

function isNear(a: number | undefined, b: number | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  return Math.abs(a - b) <= ROUNDING * Math.max(Math.abs(a), Math.abs(b));
}

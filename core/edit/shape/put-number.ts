import { trimmed } from "../../base/units.ts";
import type { TreeNode } from "../../syntax/tree.ts";
import type { TextEdits } from "../apply-edits.ts";
import type { Written } from "../field-edits.ts";
import { readValue } from "../rounded-value.ts";
import { quotedAs } from "../times/time-edits.ts";
import { isWithin, sharedSpans } from "../times/time-fields.ts";

/** What numbers measure that are shaped by hand. */
export type ShapedDimension = "length" | "angle" | "number";

/** A number as it is to stand, and what it says then [SI]. */
export interface PutNumber {
  readonly edits: TextEdits;
  readonly value: number;
}

/** Decimals that a number is never written beyond. */
const MOST_DECIMALS = 12;

/**
 * Writes a number anew in the unit, the quotes and, where it has more than hands need, the decimals in which it stands. There
 * is no edit where it says the same already, within half of its last decimal. `undefined` for a number that stands for other
 * places too, or is none.
 *
 * @param value SI.
 * @param step  How finely it is written [SI]; absent: 1 mm, 0.1 deg, 0.001.
 */
export function putNumber(
  written: Written,
  node: TreeNode | undefined,
  value: number,
  dimension: ShapedDimension,
  step?: number,
): PutNumber | undefined {
  if (node?.kind !== "scalar" || node.style === "block" || isWithin(node, sharedSpans(written.tree))) return undefined;
  const read = readValue(node.value, dimension);
  if (!read) return undefined;
  const before = written.text.slice(node.start, node.end);
  const { size, unit } = read.style;
  const fine = step === undefined ? read.style.decimals : Math.ceil(Math.log10(size / step) - 1e-9);
  const decimals = Math.min(MOST_DECIMALS, Math.max(0, fine, decimalsOf(before)));
  if (Math.abs(value - read.value) <= 0.5 * size * 10 ** -decimals) return { edits: [], value: read.value };
  const number = trimmed(value / size, decimals);
  const text = quotedAs(before, number + unit);
  return { edits: [{ span: { start: node.start, end: node.end }, text }], value: Number(number) * size };
}

/** Decimals of a number as it is written. */
function decimalsOf(text: string): number {
  const match = /\d*\.?(\d*)(?:[eE]([+-]?\d+))?/.exec(text.replace(/^['"]?[+-]?/, ""));
  return Math.max(0, (match?.[1].length ?? 0) - Number(match?.[2] ?? 0));
}

/** The same for each number of a list; `undefined` where one cannot be written, or there are others than wanted. */
export function putNumbers(
  written: Written,
  node: TreeNode | undefined,
  values: readonly number[],
  dimension: ShapedDimension,
  step?: number,
): { readonly edits: TextEdits; readonly values: readonly number[] } | undefined {
  if (node?.kind !== "list" || node.items.length !== values.length) return undefined;
  const put = node.items.map((item, i) => putNumber(written, item, values[i], dimension, step));
  if (!put.every((one) => one !== undefined)) return undefined;
  return { edits: put.flatMap(({ edits }) => edits), values: put.map(({ value }) => value) };
}

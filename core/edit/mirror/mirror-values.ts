import type { Dimension } from "../../base/dimension.ts";
import { parseQuantity } from "../../base/units.ts";
import type { Vec3 } from "../../base/vec3.ts";
import type { ScalarNode, TreeNode } from "../../syntax/tree.ts";
import { shortestDecimal } from "../decimal.ts";
import type { Written } from "../field-edits.ts";
import { storedText, unitOf } from "../neighbour-units.ts";

type Edit = { readonly span: { readonly start: number; readonly end: number }; readonly text: string };

/** Why a value cannot be written anew. */
export class Unwritable {
  readonly why: string;
  constructor(why: string) {
    this.why = why;
  }
}

/** How finely places are written anew [m]: rigs of few axes reach only what lies exactly on their way. */
const EXACT = 1e-9;

/**
 * Writes `sign` · value + `offset` [SI] for a number of the text, in the unit in which it stands; where only its sign changes
 * its digits stay.
 */
export function affineEdit(
  written: Written,
  node: TreeNode | undefined,
  dimension: Dimension,
  sign: 1 | -1,
  offset: number,
): readonly Edit[] | Unwritable {
  if (sign === 1 && offset === 0) return [];
  const read = readNumber(written, node, dimension);
  if (read instanceof Unwritable) return read;
  const { number, value, mark, span, unit } = read;
  if (offset !== 0) return [{ span, text: mark + storedText(sign * value + offset, dimension, unit) + mark }];
  if (value === 0) return [];
  const digits = number.startsWith("-") ? number.slice(1) : `-${number.replace(/^\+/, "")}`;
  return [{ span, text: mark + digits + mark }];
}

/** Writes a point or a direction of the set for the one that stands in the text, each part in its own unit. */
export function pointEdits(
  written: Written,
  node: TreeNode | undefined,
  dimension: Dimension,
  was: Vec3,
  becomes: Vec3,
): readonly Edit[] | Unwritable {
  if (node?.kind !== "list" || node.items.length !== 3) return new Unwritable("a place is repeated elsewhere");
  const edits: Edit[] = [];
  for (const [i, item] of node.items.entries()) {
    if (Math.abs(becomes[i] - was[i]) <= EXACT) continue;
    if (Math.abs(becomes[i] + was[i]) <= EXACT) {
      const flipped = affineEdit(written, item, dimension, -1, 0);
      if (flipped instanceof Unwritable) return flipped;
      edits.push(...flipped);
      continue;
    }
    const read = readNumber(written, item, dimension);
    if (read instanceof Unwritable) return read;
    edits.push({ span: read.span, text: read.mark + storedText(becomes[i], dimension, read.unit, EXACT) + read.mark });
  }
  return edits;
}

/** Writes 1 less a share for the one that stands in the text, as a number or in percent. */
export function flippedShare(written: Written, node: TreeNode | undefined): readonly Edit[] | Unwritable {
  const read = readNumber(written, node, "number");
  if (read instanceof Unwritable) return read;
  const { number, value, mark, span, unit } = read;
  if (value === 0.5) return [];
  const one = unit.trim() === "%" ? 100 : 1;
  const rest = one - Number.parseFloat(number);
  const digits = shortestDecimal(rest, (text) => Math.abs(Number(text) - rest) <= 1e-12) ?? String(rest);
  return [{ span, text: mark + digits + unit + mark }];
}

interface NumberText {
  /** Without its quotes. */
  readonly number: string;
  /** SI. */
  readonly value: number;
  readonly mark: string;
  readonly unit: string;
  readonly span: { readonly start: number; readonly end: number };
}

function readNumber(
  { text, tree }: Written,
  node: TreeNode | undefined,
  dimension: Dimension,
): NumberText | Unwritable {
  if (node?.kind !== "scalar") return new Unwritable("a value is repeated elsewhere (`&name`, `*name`)");
  const { start, end, style, value: scalar }: ScalarNode = node;
  if ((typeof scalar !== "number" && typeof scalar !== "string") || style === "block")
    return new Unwritable("a value is not on one line");
  const parsed = parseQuantity(scalar, dimension);
  const unit = unitOf(scalar);
  if (!parsed.ok || unit === undefined) return new Unwritable("a value cannot be read");
  const mark = style === "quoted" ? (tree.format === "json" ? '"' : text[start]) : "";
  const number = text.slice(start + mark.length, end - mark.length).trim();
  return { number, value: parsed.value, mark, unit, span: { start, end } };
}

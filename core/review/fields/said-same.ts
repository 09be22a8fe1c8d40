import type { Dimension } from "../../base/dimension.ts";
import type { FileId } from "../../base/span.ts";
import { displayUnit } from "../../base/units.ts";
import type { NameKind } from "../../schema/facts.ts";
import type { Said } from "./said.ts";

/**
 * Two numbers that are nearer than this say the same [SI]. A value that is written in another unit is rewritten to 5e-10 of
 * what it was, so that both sides of a rewrite are within this; the least change that counts, 1e-6 m or 1e-4 deg
 * (1.7e-6 rad), is 200 times as much.
 */
export const SAME = 5e-9;

/** The same as a share of large numbers, whose last digits are coarser than that. */
const SAME_SHARE = 1e-12;

export function sameNumber(a: number, b: number): boolean {
  return Object.is(a, b) || a === b || Math.abs(a - b) <= SAME + SAME_SHARE * Math.max(Math.abs(a), Math.abs(b));
}

/** How what the side before names is called on the side after. */
export interface SameNames {
  readonly name: (kind: NameKind, before: string) => string;
  readonly file: (before: FileId) => FileId;
  /** True when every name and file stays as it is. */
  readonly isPlain: boolean;
}

/** What is measured, of an axis or a target by its name on the side after: `slide.speed`. */
export function renamedMeasure(name: SameNames["name"], measure: string): string {
  const [of, ...rest] = measure.split(".");
  const axis = name("axis", of);
  return [axis === of ? name("target", of) : axis, ...rest].join(".");
}

/** Whether two values say the same but for units, notation and names that were changed everywhere. */
export function saysSame(before: Said, after: Said, names: SameNames): boolean {
  if (before.kind === "bare" || after.kind === "bare") return sameBare(before, after);
  switch (before.kind) {
    case "number":
      return after.kind === "number" && before.dimension === after.dimension && sameNumber(before.si, after.si);
    case "list": {
      if (after.kind !== "list" || before.parts.length !== after.parts.length) return false;
      return before.parts.every((part, idx) => saysSame(part, after.parts[idx], names));
    }
    case "file":
      return after.kind === "file" && names.file(before.file) === after.file;
    case "name":
      return after.kind === "name" && names.name(before.of, before.text) === after.text;
    case "measure":
      return after.kind === "measure" && renamedMeasure(names.name, before.text) === after.text;
    case "text":
      return after.kind === "text" && before.text === after.text;
  }
}

/** A bare number counts in the display unit of what the other side says that it is. */
function sameBare(before: Said, after: Said): boolean {
  if (before.kind === "bare" && after.kind === "bare") return sameNumber(before.number, after.number);
  const [known, bare] = before.kind === "bare" ? [after, before] : [before, after];
  return bare.kind === "bare" && known.kind === "number" && sameNumber(known.si, ofBare(bare.number, known.dimension));
}

/** A number without a unit in SI, where what it is of is known after all. */
const ofBare = (number: number, dimension: Dimension): number =>
  dimension === "share" ? number : number * displayUnit(dimension).size;

/** How far a number went, SI; `undefined` for what is no number, or none of the same kind. */
export function differenceOf(
  before: Said | undefined,
  after: Said | undefined,
): { by: number; dimension: Dimension } | undefined {
  if (before?.kind !== "number" || after?.kind !== "number" || before.dimension !== after.dimension) return undefined;
  return { by: after.si - before.si, dimension: after.dimension };
}

import type { Dimension } from "../../base/dimension.ts";
import { displayUnit, formatQuantity, trimmed } from "../../base/units.ts";
import type { Said } from "./said.ts";

/** Digits after which two figures that still look alike are taken as alike. */
const MOST_DIGITS = 9;

/** Longer texts are cut. */
const LONGEST = 80;

/** Both values as people read them, with as many digits as it takes to see that they differ. */
export function saidWords(before: Said | undefined, after: Said | undefined): { was?: string; is?: string } {
  const say = (digits?: number): { was?: string; is?: string } => ({
    ...(before ? { was: words(before, digits) } : {}),
    ...(after ? { is: words(after, digits) } : {}),
  });
  let said = say();
  for (let digits = 3; said.was !== undefined && said.was === said.is && digits <= MOST_DIGITS; digits++) {
    said = say(digits);
  }
  return said;
}

function words(said: Said, digits?: number): string {
  switch (said.kind) {
    case "number":
      return said.shown ?? figure(said.si, said.dimension, digits);
    case "bare":
      return String(said.number);
    case "list":
      return listWords(said.parts, digits);
    default:
      return shortened(said.text);
  }
}

/** `[1.4, 0] m`: the unit once where all have the same. */
function listWords(parts: readonly Said[], digits?: number): string {
  const [first] = parts;
  const isAlike = parts.length > 1 && parts.every((part) => part.kind === "number" && isLike(part, first));
  if (!isAlike || first.kind !== "number") return shortened(`[${parts.map((part) => words(part, digits)).join(", ")}]`);
  const { unit, size } = displayUnit(first.dimension);
  const places = digits ?? 4;
  const numbers = parts.map((part) => (part.kind === "number" ? trimmed(part.si / size, places) : ""));
  return shortened(`[${numbers.join(", ")}] ${unit}`.trim());
}

const isLike = (a: Said & { readonly kind: "number" }, b: Said): boolean =>
  b.kind === "number" && a.dimension === b.dimension && a.shown === undefined;

function figure(si: number, dimension: Dimension, digits: number | undefined): string {
  if (digits === undefined) return formatQuantity(si, dimension);
  const { unit, size } = displayUnit(dimension);
  return `${trimmed(si / size, digits)} ${unit}`.trim();
}

export const shortened = (text: string): string => {
  const line = text.replace(/\s+/g, " ").trim();
  return line.length > LONGEST ? `${line.slice(0, LONGEST - 1).trimEnd()}…` : line;
};

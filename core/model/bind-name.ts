import type { DocumentCode } from "../base/finding-code.ts";
import { nameAdvice } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import type { Stated } from "./declared.ts";
import { replacement, report, type Reporter } from "./report.ts";

/** The names of one kind that can be meant. */
export interface NameSpace {
  readonly code: DocumentCode;
  /** `There is no axis`, to be followed by the name. */
  readonly lacks: string;
  readonly known: readonly string[];
  /** What to say when nothing is known. */
  readonly none: string;
}

/**
 * The known name that is meant. An unknown one is a finding; the nearest, if there is one, is then read in its place, so
 * that one slip of a letter does not change all that follows from it.
 */
export function bindName(to: Reporter, stated: Stated<string>, space: NameSpace): string | undefined {
  if (space.known.includes(stated.value)) return stated.value;
  const nearest = nearestName(stated.value, space.known);
  const axis = space.code === "unknown-axis" ? { axis: stated.value } : {};
  const cures = nearest === undefined ? {} : { cures: [replacement(to, stated.span, nearest)] };
  const message = `${space.lacks} \`${stated.value}\`. ${nameAdvice(nearest, space.known, space.none)}`;
  report(to, space.code, stated.span, message, { ...axis, ...cures });
  return nearest;
}

/** Names of axes. */
export const axisNames = (known: readonly string[]): NameSpace => ({
  code: "unknown-axis",
  lacks: "There is no axis",
  known,
  none: "There are none.",
});

import type { Severity } from "../../core/base/finding-code.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";

/** In the order of gravity, with the words for one and for more. */
const COUNTED: readonly (readonly [Severity, string, string])[] = [
  ["error", "error", "errors"],
  ["warning", "warning", "warnings"],
  ["information", "remark", "remarks"],
  ["hint", "hint", "hints"],
];

/** `2 errors, 1 warning, 1 allowed`; empty for none. */
export function countWords(findings: readonly PlacedFinding[]): string {
  const open = findings.filter(({ allowed }) => allowed === undefined);
  const counted = COUNTED.flatMap(([severity, one, more]) => {
    const count = open.filter((each) => each.severity === severity).length;
    return count === 0 ? [] : [`${count} ${count === 1 ? one : more}`];
  });
  const allowed = findings.length - open.length;
  return [...counted, ...(allowed > 0 ? [`${allowed} allowed`] : [])].join(", ");
}

/** The gravest first. */
export function byGravity(findings: readonly PlacedFinding[]): readonly PlacedFinding[] {
  return COUNTED.flatMap(([severity]) => findings.filter((each) => each.severity === severity));
}

import type { Severity } from "../base/finding-code.ts";

const NOUNS: readonly (readonly [string, readonly Severity[]])[] = [
  ["error", ["error"]],
  ["warning", ["warning"]],
  ["note", ["information", "hint"]],
];

/** `2 errors, 1 note`; empty for none. */
export function countedFindings(findings: readonly { readonly severity: Severity }[]): string {
  const parts = NOUNS.flatMap(([noun, severities]) => {
    const count = findings.filter(({ severity }) => severities.includes(severity)).length;
    return count === 0 ? [] : [`${count} ${noun}${count === 1 ? "" : "s"}`];
  });
  return parts.join(", ");
}

import type { PlacedFinding } from "../core/checks/finding.ts";
import type { CheckedFinding } from "../core/exchange/checked-document.ts";
import type { LineIndex } from "../core/syntax/lines.ts";

/** A finding as the command line answers it; absent fields are left out. */
export function findingAnswer(finding: PlacedFinding, lines: LineIndex): Record<string, unknown> {
  const { start, end } = finding.place.span;
  return answerOf({ ...finding, range: { start: lines.position(start), end: lines.position(end) } });
}

/** What is answered of a finding, in the order in which it is answered. */
export function answerOf(
  finding: Omit<CheckedFinding, "element" | "file" | "related" | "cures">,
): Record<string, unknown> {
  const { code, severity, message, range, key, axis, time, value, limit, unit, allowed } = finding;
  return { code, severity, message, range, key, axis, time, value, limit, unit, allowed };
}

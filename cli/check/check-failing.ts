import type { Severity } from "../../core/base/finding-code.ts";
import { counts, type CheckReport } from "../../core/exchange/check-report.ts";

export interface Strictness {
  /** Warnings count as errors do. */
  readonly strict?: boolean;
  /** More warnings than these fail. */
  readonly maxWarnings?: number;
}

/** Severities of which one finding that counts fails the check: errors, and warnings where they are not wanted or too many. */
export function failingSeverities(
  { documents }: CheckReport,
  { strict, maxWarnings }: Strictness,
): readonly Severity[] {
  const warnings = documents
    .flatMap(({ findings }) => findings)
    .filter((one) => counts(one) && one.severity === "warning");
  const areTooMany = maxWarnings !== undefined && warnings.length > maxWarnings;
  return strict === true || areTooMany ? ["error", "warning"] : ["error"];
}

/** Whether the check fails. */
export function isFailing(report: CheckReport, strictness: Strictness): boolean {
  const failing = failingSeverities(report, strictness);
  return report.documents.some(({ findings }) => findings.some((one) => counts(one) && failing.includes(one.severity)));
}

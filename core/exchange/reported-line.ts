import { plainWords } from "../base/plain-words.ts";
import type { CheckReport, ReportedFinding } from "./check-report.ts";

/** A finding as one line: `file:line:column: severity code message`, line and column from 1. */
export function reportedLine(finding: ReportedFinding, { nameOf }: Pick<CheckReport, "nameOf">): string {
  const { file, range, severity, code, message } = finding;
  const { line, character } = range.start;
  return plainWords(`${nameOf(file)}:${line + 1}:${character + 1}: ${severity} ${code} ${message}${standing(finding)}`);
}

/** Why a finding doesn't count, in brackets; empty for one that does. */
export function standing({ allowed, known }: ReportedFinding): string {
  if (allowed !== undefined) return ` (allowed: ${allowed})`;
  return known === undefined ? "" : ` (known: ${known === "base" ? "the base has it too" : "listed in the baseline"})`;
}

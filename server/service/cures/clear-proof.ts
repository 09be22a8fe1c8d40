import type { Task } from "../../../core/base/task.ts";
import { analyse } from "../../../core/checks/analyse.ts";
import { findingsOf, type Analysis } from "../../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../../core/checks/finding.ts";
import type { FindingCode, Severity } from "../../../core/base/finding-code.ts";
import { isOneLess, missingAmong, sourcesWith, type Ground } from "./clear-ground.ts";
import { nearsOf } from "./near.ts";

/** A changed text that was analysed as a whole. */
export interface Proof {
  readonly analysis: Analysis;
  /** Kinds of warnings that were not there before, or not so often. */
  readonly warnings: readonly FindingCode[];
}

/** The proof that a changed text has the finding no more and no error that is new; `undefined` where that is not so. */
export function* proveClear(ground: Ground, before: Analysis, text: string): Task<Proof | undefined> {
  const analysis = yield* analyse(ground.file, sourcesWith(ground, text), ground.memo);
  if (!analysis.move || !analysis.trajectory) return undefined;
  const nears = nearsOf(analysis.motionFindings);
  if (0 < missingAmong(ground, nears) || !isOneLess(ground, nears)) return undefined;
  if (moreOf("error", before, analysis).length > 0) return undefined;
  return { analysis, warnings: moreOf("warning", before, analysis) };
}

/** Codes of findings of a severity of which there are more than before. */
export function moreOf(severity: Severity, before: Analysis, after: Analysis): readonly FindingCode[] {
  // What was an error and is a warning now is no new warning.
  const known = findingsOf(before).filter((one) => severity === "warning" || one.severity === severity);
  const counts = countsOf(known);
  const more = [...countsOf(findingsOf(after).filter((one) => one.severity === severity))];
  return [
    ...new Set(more.flatMap(([name, { code, count }]) => (count > (counts.get(name)?.count ?? 0) ? [code] : []))),
  ];
}

function countsOf(
  findings: readonly PlacedFinding[],
): Map<string, { readonly code: FindingCode; readonly count: number }> {
  const counts = new Map<string, { code: FindingCode; count: number }>();
  for (const { code, axis, bodies, pass, allowed } of findings) {
    if (allowed !== undefined) continue;
    const name = JSON.stringify([code, axis, bodies?.target, pass]);
    counts.set(name, { code, count: (counts.get(name)?.count ?? 0) + 1 });
  }
  return counts;
}

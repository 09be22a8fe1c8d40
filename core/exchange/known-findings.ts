import { identity, rankOf, type KnownBy, type ReportedFinding } from "./check-report.ts";
import type { CheckedFinding } from "./checked-document.ts";

/**
 * Marks the findings of a document that its older state has too: those of the same code about the same element, then those
 * that tell the same of the same time where a key beside it is another one. Each older finding makes one known; one that
 * became more severe, or that was allowed and is no longer, is new.
 */
export function markKnownByBase(
  findings: readonly ReportedFinding[],
  base: readonly CheckedFinding[],
): ReportedFinding[] {
  const left = new Set(base);
  const take = (isSame: (a: CheckedFinding, b: CheckedFinding) => boolean) => (finding: ReportedFinding) => {
    const same = [...left].find((one) => rankOf(one.severity) <= rankOf(finding.severity) && isSame(one, finding));
    return same !== undefined && left.delete(same);
  };
  const byElement = marked(
    findings,
    "base",
    take((a, b) => identity(a) === identity(b)),
  );
  return marked(
    byElement,
    "base",
    take((a, b) => a.code === b.code && sayingOf(a) === sayingOf(b) && overlap(a, b)),
  );
}

/** What a finding tells but for its place: of which axis, pass and bodies. An element has what its place does not say in brackets. */
function sayingOf({ axis, pass, element }: CheckedFinding): string {
  const marks = /\(([^()]*)\)$/.exec(element)?.[1].split(", ") ?? [];
  return JSON.stringify([axis, pass, marks.filter((mark) => mark !== axis && mark !== `pass ${pass}`)]);
}

const overlap = ({ time: a }: CheckedFinding, { time: b }: CheckedFinding): boolean =>
  a !== undefined && b !== undefined && a.from <= b.to && b.from <= a.to;

/** Marks the findings of a document that are listed; `left` says of each identity how many are, and is counted down. */
export function markKnownByList(findings: readonly ReportedFinding[], left: Map<string, number>): ReportedFinding[] {
  return marked(findings, "baseline", (finding) => {
    const count = left.get(identity(finding)) ?? 0;
    if (count > 0) left.set(identity(finding), count - 1);
    return count > 0;
  });
}

/** What is allowed, or known already, uses up nothing. */
function marked(
  findings: readonly ReportedFinding[],
  known: KnownBy,
  isKnown: (finding: ReportedFinding) => boolean,
): ReportedFinding[] {
  return findings.map((one) =>
    one.allowed === undefined && one.known === undefined && isKnown(one) ? { ...one, known } : one,
  );
}

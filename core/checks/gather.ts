import type { Finding } from "./finding.ts";

/** Spans of one code, axis and segment that are told one by one; a smooth segment has four of jerk at most. */
export const MOST_SPANS = 6;

/** Where a segment breaks one limit over and over, as beside a pole, one finding tells the worst and how often. */
export function gatherFindings(findings: readonly Finding[]): Finding[] {
  const segments = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { code, axis, key, origin, dimension } = finding;
    // Two obstacles beside one key are two things to cure.
    const name = JSON.stringify([code, axis, key, origin, dimension, finding.facts.target]);
    const group = segments.get(name);
    if (group) group.push(finding);
    else segments.set(name, [finding]);
  }
  return [...segments.values()].flatMap((group) => (group.length <= MOST_SPANS ? group : [gathered(group)]));
}

function gathered(group: readonly Finding[]): Finding {
  const worst = group.reduce((a, b) => (breach(b) > breach(a) ? b : a));
  const from = Math.min(...group.map(({ time }) => time?.from ?? Infinity));
  const to = Math.max(...group.map(({ time }) => time?.to ?? -Infinity));
  const time = from <= to ? { from, to } : undefined;
  return { ...worst, time, facts: { ...worst.facts, spans: group.length } };
}

const breach = ({ measured = 0, limit = 0 }: Finding): number => Math.abs(measured - limit);

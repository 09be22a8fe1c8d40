import { findingsOf } from "../checks/analysis.ts";
import type { PlacedFinding } from "../checks/finding.ts";
import { elementAt, pathOf } from "./element.ts";
import { renamedMeasure, type SameNames } from "./fields/said-same.ts";
import type { FindingReview } from "./review.ts";
import type { ReviewSide } from "./review-side.ts";

/** A finding with what it is about, as the side after names it. */
interface Told {
  readonly finding: PlacedFinding;
  readonly element: string;
  /** What it is about, wherever it stands: its axis, bodies and pass. */
  readonly marks: string;
}

/**
 * Findings that are new, still there, in the order of the side after, and gone. One is the same where code and element are;
 * else where code, axis, bodies and pass are and the times overlap, as when a key more takes its place over.
 *
 * @param parts By the path's part that leads to a key before: that of the same key after.
 */
export function reviewFindings(
  before: ReviewSide | undefined,
  after: ReviewSide | undefined,
  names: SameNames,
  parts: ReadonlyMap<string, string> = new Map(),
): FindingReview[] {
  const gone = before ? findingsOf(before.analysis).map((finding) => toldBefore(finding, before, names, parts)) : [];
  const told = after ? findingsOf(after.analysis).map((finding) => toldOf(finding, pathOf(finding, after.tree))) : [];
  const matches = new Map<Told, Told>();
  match(told, gone, matches, (a, b) => a.element === b.element);
  match(told, gone, matches, (a, b) => a.marks === b.marks && overlap(a.finding, b.finding));
  return [
    ...told.map(({ finding, element }, idx): FindingReview => {
      const { code } = finding;
      const was = matches.get(told[idx]);
      return was
        ? { state: "still", code, element, finding, before: was.finding }
        : { state: "new", code, element, finding };
    }),
    ...gone.map(({ finding, element }): FindingReview => ({ state: "gone", code: finding.code, element, finding })),
  ];
}

/** Takes what matches out of `gone`; of several the first, so that they pair up in their order. */
function match(
  told: readonly Told[],
  gone: Told[],
  matches: Map<Told, Told>,
  isSame: (a: Told, b: Told) => boolean,
): void {
  for (const one of told) {
    if (matches.has(one)) continue;
    const found = gone.findIndex((other) => other.finding.code === one.finding.code && isSame(one, other));
    if (found >= 0) matches.set(one, gone.splice(found, 1)[0]);
  }
}

function toldBefore(
  finding: PlacedFinding,
  { tree }: ReviewSide,
  names: SameNames,
  parts: ReadonlyMap<string, string>,
): Told {
  const path = pathOf(finding, tree).map((part, idx, all) =>
    idx === 1 && all[0] === "keys" ? (parts.get(part) ?? part) : renamed(names, part),
  );
  const axis = finding.axis === undefined ? {} : { axis: names.name("axis", finding.axis) };
  const told = toldOf({ ...finding, ...axis }, path);
  return { ...told, finding };
}

/** A name that leads to a value of an axis, a target or a turntable, or what a test measures of one. */
function renamed(names: SameNames, part: string): string {
  if (part.includes(".")) return renamedMeasure(names.name, part);
  const others = (["axis", "target", "turntable"] as const).map((kind) => names.name(kind, part));
  return others.find((name) => name !== part) ?? part;
}

const toldOf = (finding: PlacedFinding, path: readonly string[]): Told => ({
  finding,
  element: elementAt(finding, path),
  marks: elementAt(finding, []),
});

function overlap({ time: a }: PlacedFinding, { time: b }: PlacedFinding): boolean {
  return a !== undefined && b !== undefined && a.from <= b.to && b.from <= a.to;
}

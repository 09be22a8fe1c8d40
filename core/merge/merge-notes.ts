import { diff3Merge } from "node-diff3";
import { clash, type Bit } from "./bits.ts";
import { linesOf, remarks } from "./lines.ts";

/**
 * Merges what stands between values: blanks, line ends, comments. Blanks mean nothing, so that those of one side are taken;
 * comments are merged by lines, and what both sides added stays of both.
 */
export function mergeNotes(base: string | undefined, ours: string, theirs: string): readonly Bit[] {
  if (ours === theirs || theirs === base) return [ours];
  if (ours === base) return [theirs];
  const said = { base: remarks(base ?? ""), ours: remarks(ours), theirs: remarks(theirs) };
  if (isEqual(said.ours, said.theirs) || isEqual(said.base, said.theirs)) return [ours];
  if (isEqual(said.base, said.ours)) return [theirs];
  if (base === undefined) return addedByBoth(ours, theirs);
  return byLines(linesOf(base), linesOf(ours), linesOf(theirs));
}

const isEqual = (one: readonly string[], other: readonly string[]): boolean =>
  one.length === other.length && one.every((text, i) => text === other[i]);

/** Comments of whole lines stay of both sides; two beside one value clash. */
function addedByBoth(ours: string, theirs: string): readonly Bit[] {
  const areWhole = [ours, theirs].every((text) => text === "" || /^[ \t]*(?:#.*)?\n/.test(text));
  return areWhole ? union(linesOf(ours), linesOf(theirs)) : [clash(ours, theirs)];
}

/** Most pairs of lines of comments that are compared. */
const MAX_PAIRS = 4_000_000;

function byLines(base: string[], ours: string[], theirs: string[]): readonly Bit[] {
  if (base.length * Math.max(ours.length, theirs.length) > MAX_PAIRS) return [clash(ours.join(""), theirs.join(""))];
  return diff3Merge(ours, base, theirs, { excludeFalseConflicts: true }).flatMap((region): readonly Bit[] => {
    if (region.ok) return [region.ok.join("")];
    const { a, o, b } = region.conflict ?? { a: [], o: [], b: [] };
    const [mine, old, other] = [a, o, b].map((lines) => remarks(lines.join("")));
    if (o.length === 0) return union(a, b);
    if (isEqual(mine, other) || isEqual(old, other)) return [a.join("")];
    if (isEqual(old, mine)) return [b.join("")];
    return [clash(a.join(""), b.join(""))];
  });
}

/** Ours, and behind them what theirs have beyond. */
function union(ours: readonly string[], theirs: readonly string[]): readonly Bit[] {
  const known = new Set(ours.map((line) => line.trim()));
  return [[...ours, ...theirs.filter((line) => !known.has(line.trim()))].join("")];
}

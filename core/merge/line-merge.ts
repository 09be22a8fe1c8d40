import { diff3Merge } from "node-diff3";
import { linesOf } from "./lines.ts";
import type { Region } from "./regions.ts";
import type { Three } from "./sides.ts";

/** Most pairs of equal lines that are looked at: more take longer than anybody waits. */
const MAX_PAIRS = 1_000_000;

/** Merges by lines, as git does. Texts whose last line ends; one of too many equal lines is one conflict. */
export function mergeLines({ base, ours, theirs }: Three<string>): Region[] {
  const all = [ours, base ?? "", theirs].map(linesOf);
  const { head, tail } = shared(all);
  const [a, o, b] = all.map((lines) => lines.slice(head, lines.length - tail));
  if (pairsOf(o, a) + pairsOf(o, b) > MAX_PAIRS) return wholeClash({ base, ours, theirs });
  const merged = diff3Merge(a, o, b, { excludeFalseConflicts: true });
  return [
    ...agreed(all[0].slice(0, head)),
    ...merged.flatMap(({ ok, conflict }): Region[] =>
      ok ? agreed(ok) : [{ ours: conflict?.a.join("") ?? "", theirs: conflict?.b.join("") ?? "" }],
    ),
    ...agreed(all[0].slice(all[0].length - tail)),
  ];
}

const agreed = (lines: readonly string[]): Region[] => (lines.length === 0 ? [] : [{ text: lines.join("") }]);

/** How many lines all begin with, and end with. */
function shared(all: readonly (readonly string[])[]): { readonly head: number; readonly tail: number } {
  const [first] = all;
  const least = Math.min(...all.map(({ length }) => length));
  let head = 0;
  while (head < least && all.every((lines) => lines[head] === first[head])) head += 1;
  let tail = 0;
  const same = (lines: readonly string[]): boolean => lines[lines.length - 1 - tail] === first[first.length - 1 - tail];
  while (tail < least - head && all.every(same)) tail += 1;
  return { head, tail };
}

function pairsOf(one: readonly string[], other: readonly string[]): number {
  const counts = new Map<string, number>();
  for (const line of one) counts.set(line, (counts.get(line) ?? 0) + 1);
  return other.reduce((sum, line) => sum + (counts.get(line) ?? 0), 0);
}

/** One conflict from the first to the last line in which the sides differ. */
export function wholeClash({ ours, theirs }: Three<string>): Region[] {
  const all = [ours, theirs].map(linesOf);
  const { head, tail } = shared(all);
  const [own, their] = all.map((lines) => lines.slice(head, lines.length - tail).join(""));
  const clash = own === their ? [] : [{ ours: own, theirs: their }];
  return [...agreed(all[0].slice(0, head)), ...clash, ...agreed(all[0].slice(all[0].length - tail))];
}

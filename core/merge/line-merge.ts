import { diff3Merge } from "node-diff3";
import { linesOf } from "./lines.ts";
import type { Region } from "./regions.ts";
import type { Three } from "./sides.ts";

/** Most lines of a side that are compared one by one. */
const MAX_LINES = 200_000;

/** Merges by lines, as git does. Texts whose last line ends; one of too many lines is one conflict. */
export function mergeLines({ base, ours, theirs }: Three<string>): Region[] {
  const [a, o, b] = [ours, base ?? "", theirs].map(linesOf);
  if (Math.max(a.length, o.length, b.length) > MAX_LINES) return wholeClash({ base, ours, theirs });
  const merged = diff3Merge(a, o, b, { excludeFalseConflicts: true });
  return merged.map(({ ok, conflict }): Region =>
    ok ? { text: ok.join("") } : { ours: conflict?.a.join("") ?? "", theirs: conflict?.b.join("") ?? "" },
  );
}

/** One conflict from the first to the last line in which the sides differ. */
export function wholeClash({ ours, theirs }: Three<string>): Region[] {
  const [a, b] = [linesOf(ours), linesOf(theirs)];
  const least = Math.min(a.length, b.length);
  let head = 0;
  while (head < least && a[head] === b[head]) head += 1;
  let tail = 0;
  while (tail < least - head && a[a.length - 1 - tail] === b[b.length - 1 - tail]) tail += 1;
  const middle = (lines: readonly string[]): string => lines.slice(head, lines.length - tail).join("");
  const text = (lines: readonly string[]): Region[] => (lines.length === 0 ? [] : [{ text: lines.join("") }]);
  const [own, their] = [middle(a), middle(b)];
  const clash = own === their ? [] : [{ ours: own, theirs: their }];
  return [...text(a.slice(0, head)), ...clash, ...text(a.slice(a.length - tail))];
}

import { documentKind } from "../core/model/document-kind.ts";

/** Share of its lines that two files have in common at least, for one to be the other under a new name (git has the same). */
const LEAST = 0.5;
/** Most pairs that are looked into; with more, only files of the same text are paired. */
const MOST_PAIRS = 40_000;

/** A file by a name of its side, and its text. */
export interface NamedText {
  readonly name: string;
  readonly text: string;
}

/**
 * Finds files of the side after that are files of the side before under another name: those of the same text first, then the
 * most alike of the same kind. Gives names before by names after.
 */
export function pairRenames(removed: readonly NamedText[], added: readonly NamedText[]): Map<string, string> {
  const pairs = new Map<string, string>();
  const taken = new Set<string>();
  const pair = (before: string, after: string): void => {
    if (pairs.has(after) || taken.has(before)) return;
    pairs.set(after, before);
    taken.add(before);
  };
  const byText = new Map(removed.map(({ name, text }) => [`${kindOf(name)} ${text}`, name]));
  for (const { name, text } of added) {
    const before = byText.get(`${kindOf(name)} ${text}`);
    if (before !== undefined) pair(before, name);
  }
  const gone = removed.filter(({ name }) => !taken.has(name));
  const come = added.filter(({ name }) => !pairs.has(name));
  if (MOST_PAIRS < gone.length * come.length) return pairs;
  const counted = gone.map((file) => ({ ...file, lines: countLines(file.text) }));
  const alike = come.flatMap(({ name, text }) => {
    const lines = countLines(text);
    return counted
      .filter((other) => kindOf(other.name) === kindOf(name))
      .map((other) => ({ before: other.name, after: name, share: sharedLines(other.lines, lines) }));
  });
  alike.sort((a, b) => b.share - a.share);
  for (const { before, after, share } of alike) if (LEAST <= share) pair(before, after);
  return pairs;
}

const kindOf = (name: string): string => documentKind(name)?.kind ?? /\.[^./]*$/.exec(name)?.[0] ?? "";

function countLines(text: string): Map<string, number> {
  const lines = new Map<string, number>();
  for (const line of text.split(/\r?\n/)) lines.set(line.trim(), (lines.get(line.trim()) ?? 0) + 1);
  lines.delete("");
  return lines;
}

/** Lines that both have over those of the longer one: 0..1. */
function sharedLines(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  let shared = 0;
  for (const [line, count] of a) shared += Math.min(count, b.get(line) ?? 0);
  const most = Math.max(total(a), total(b));
  return most === 0 ? 0 : shared / most;
}

const total = (lines: ReadonlyMap<string, number>): number =>
  [...lines.values()].reduce((sum, count) => sum + count, 0);

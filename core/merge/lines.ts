import { NotCut } from "./sides.ts";

/** Offset of the beginning of the line of `offset`. */
export const lineStart = (text: string, offset: number): number => text.lastIndexOf("\n", offset - 1) + 1;

/** Offset of the beginning of the next line; the end of the text after the last one. */
export function nextLine(text: string, offset: number): number {
  const end = text.indexOf("\n", offset);
  return end < 0 ? text.length : end + 1;
}

/** Lines with their ends. */
export const linesOf = (text: string): string[] => text.match(/[^\n]*\n|[^\n]+$/g) ?? [];

/** True where nothing but blanks and comments of YAML stands. */
export const isNote = (text: string): boolean => linesOf(text).every((line) => /^[ \t]*(?:#.*)?\r?\n?$/.test(line));

/** What comments say in a text of blanks and comments, in their order. */
export function remarks(text: string): string[] {
  return linesOf(text).flatMap((line) => {
    const at = line.indexOf("#");
    return at < 0 ? [] : [line.slice(at).trim()];
  });
}

/** True where each of `some` is among `all`, as often. */
export function isWithin(some: readonly string[], all: readonly string[]): boolean {
  const left = [...all];
  return some.every((one) => {
    const at = left.indexOf(one);
    if (0 <= at) left.splice(at, 1);
    return 0 <= at;
  });
}

/**
 * Moves lines to the right, or to the left where `by` is negative. Throws `NotCut` where there are too few blanks to take.
 *
 * @param first Whether the first line begins in this text, so that it moves too.
 */
export function shifted(text: string, by: number, first: "first too" | "later lines"): string {
  if (by === 0) return text;
  return linesOf(text)
    .map((line, i) => (i === 0 && first === "later lines" ? line : shiftedLine(line, by)))
    .join("");
}

function shiftedLine(line: string, by: number): string {
  if (line.trim() === "") return line;
  if (0 < by) return " ".repeat(by) + line;
  if (!line.startsWith(" ".repeat(-by))) throw new NotCut("A line has fewer blanks than are to be taken.");
  return line.slice(-by);
}

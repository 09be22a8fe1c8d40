import type { Bit } from "./bits.ts";
import { linesOf } from "./lines.ts";

/** Whole lines: agreed ones, or those of both sides where they do not agree. */
export type Region = { readonly text: string } | { readonly ours: string; readonly theirs: string };

/** What stands at the marks of a conflict, and how long they are. */
export interface Marks {
  readonly ours: string;
  readonly theirs: string;
  /** Characters of each mark, 7 as a rule. */
  readonly size: number;
}

/** Whole lines of merged bits, whose last line ends: a clash takes the lines that it stands on, and no other. */
export function regionsOf(bits: readonly Bit[]): Region[] {
  const out: Region[] = [];
  let [ours, theirs, isClash, isWhole] = ["", "", false, false];
  const flush = (): void => {
    if (isClash && isWhole) joinClash(out, ours, theirs);
    else if (isClash) addClash(out, ours, theirs);
    else if (ours !== "") out.push({ text: ours });
    [ours, theirs, isClash, isWhole] = ["", "", false, false];
  };
  for (const bit of bits) {
    if (typeof bit === "string") {
      for (const line of linesOf(bit)) {
        ours += line;
        theirs += line;
        if (line.endsWith("\n")) flush();
      }
    } else {
      ours += bit.ours;
      theirs += bit.theirs;
      isClash = true;
      isWhole ||= bit.isWhole === true;
      if (endsLine(ours) && endsLine(theirs)) flush();
    }
  }
  flush();
  return out;
}

const endsLine = (text: string): boolean => text === "" || text.endsWith("\n");

/** Adds a clash less the lines that both sides begin and end with. */
function addClash(out: Region[], ours: string, theirs: string): void {
  const [mine, other] = [linesOf(ours), linesOf(theirs)];
  let head = 0;
  while (head < mine.length && head < other.length && mine[head] === other[head]) head += 1;
  let tail = 0;
  const least = Math.min(mine.length, other.length) - head;
  while (tail < least && mine[mine.length - 1 - tail] === other[other.length - 1 - tail]) tail += 1;
  if (head > 0) out.push({ text: mine.slice(0, head).join("") });
  const [own, their] = [mine, other].map((lines) => lines.slice(head, lines.length - tail).join(""));
  if (own !== their) joinClash(out, own, their);
  if (tail > 0) out.push({ text: mine.slice(mine.length - tail).join("") });
}

/** One that touches the clash before becomes one with it. */
function joinClash(out: Region[], ours: string, theirs: string): void {
  const last = out[out.length - 1];
  if (last === undefined || "text" in last) out.push({ ours, theirs });
  else out.splice(-1, 1, { ours: last.ours + ours, theirs: last.theirs + theirs });
}

export const countClashes = (regions: readonly Region[]): number => regions.filter((one) => "ours" in one).length;

/** The text with the marks that git sets at conflicts. Every line ends in `\n`. */
export function renderRegions(regions: readonly Region[], { ours, theirs, size }: Marks): string {
  const mark = (sign: string, label: string): string => `${sign.repeat(size)}${label === "" ? "" : ` ${label}`}\n`;
  return regions
    .map((one) =>
      "text" in one ? one.text : mark("<", ours) + one.ours + mark("=", "") + one.theirs + mark(">", theirs),
    )
    .join("");
}

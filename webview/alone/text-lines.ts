/** A line of a text: what it says, without its end, and where it begins [UTF-16 offset]. */
export interface TextLine {
  readonly start: number;
  readonly text: string;
}

/** A stretch of one line: characters `from`..`to` of line `line`. */
export interface LineStretch {
  readonly line: number;
  readonly from: number;
  readonly to: number;
}

/** `\n`, `\r\n` and `\r` each end a line. */
export function linesOf(text: string): TextLine[] {
  const lines: TextLine[] = [];
  const ends = /\r\n|\n|\r/g;
  let start = 0;
  for (let end = ends.exec(text); end; end = ends.exec(text)) {
    lines.push({ start, text: text.slice(start, end.index) });
    start = ends.lastIndex;
  }
  lines.push({ start, text: text.slice(start) });
  return lines;
}

/** The line that an offset stands in. */
export function lineAt(lines: readonly TextLine[], offset: number): number {
  let low = 0;
  let high = lines.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (lines[middle].start <= offset) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** What of each line lies in `start`..`end`; of the lines after the first the blanks in front are left out. */
export function stretchesOf(lines: readonly TextLine[], start: number, end: number): LineStretch[] {
  const first = lineAt(lines, start);
  const last = lineAt(lines, Math.max(start, end - 1));
  const stretches: LineStretch[] = [];
  for (let line = first; line <= last; line++) {
    const { start: begin, text } = lines[line];
    const indent = text.length - text.trimStart().length;
    const from = Math.max(line === first ? start - begin : indent, 0);
    const to = Math.min(end - begin, text.length);
    if (from < to || (line === first && first === last)) stretches.push({ line, from, to: Math.max(from, to) });
  }
  return stretches;
}

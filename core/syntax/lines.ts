/** A place in text as editors count it: zero-based line and UTF-16 character. */
export interface LinePosition {
  readonly line: number;
  readonly character: number;
}

/** Where the lines of a text begin. `\n`, `\r\n` and `\r` each end a line. */
export interface LineIndex {
  readonly count: number;
  /** Offsets beyond the text are taken as its ends. */
  position(offset: number): LinePosition;
  /** Lines and characters beyond the text or the line are taken as their ends. */
  offset(position: LinePosition): number;
  /** Offset of the first character of a line, 0 <= line < count. */
  start(line: number): number;
}

export function indexLines(text: string): LineIndex {
  const starts = [0];
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 13 && text.charCodeAt(i + 1) === 10) continue;
    if (code === 10 || code === 13) starts.push(i + 1);
  }
  const lineOf = (offset: number): number => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle] <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  const endOf = (line: number): number => {
    if (line + 1 >= starts.length) return text.length;
    const end = starts[line + 1] - 1;
    return end > starts[line] && text.charCodeAt(end) === 10 && text.charCodeAt(end - 1) === 13 ? end - 1 : end;
  };
  return {
    count: starts.length,
    position(offset) {
      const inside = Math.max(0, Math.min(offset, text.length));
      const line = lineOf(inside);
      return { line, character: inside - starts[line] };
    },
    offset({ line, character }) {
      if (line < 0) return 0;
      if (line >= starts.length) return text.length;
      return Math.min(starts[line] + Math.max(0, character), endOf(line));
    },
    start: (line) => starts[line],
  };
}

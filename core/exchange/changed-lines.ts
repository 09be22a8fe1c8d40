/** Lines of the text after, from 0, that are new or other ones: `start <= line < end`; empty where lines are gone alone. */
export interface LineRange {
  readonly start: number;
  readonly end: number;
}

/** Pairs of lines that are compared at most; beyond, all between what is alike at both ends counts as changed. */
const MOST_PAIRS = 4_000_000;

/** The changed lines of a text, as a code host marks them: those outside of a longest common sequence of lines. */
export function changedLines(before: string, after: string): LineRange[] {
  const [was, is] = [linesOf(before), linesOf(after)];
  const most = Math.min(was.length, is.length);
  let front = 0;
  while (front < most && was[front] === is[front]) front += 1;
  let back = 0;
  while (back < most - front && was[was.length - 1 - back] === is[is.length - 1 - back]) back += 1;
  const [older, newer] = [was.slice(front, was.length - back), is.slice(front, is.length - back)];
  if (older.length === 0 && newer.length === 0) return [];
  if (older.length * newer.length > MOST_PAIRS) return [{ start: front, end: front + newer.length }];
  return unmatched(older, newer).map(({ start, end }) => ({ start: start + front, end: end + front }));
}

const linesOf = (text: string): string[] => text.split(/\r\n|\n|\r/);

/** Stretches of `newer` that no longest common sequence holds, and the places where lines of `older` are gone. */
function unmatched(older: readonly string[], newer: readonly string[]): LineRange[] {
  const width = newer.length + 1;
  const lengths = commonLengths(older, newer);
  const ranges: LineRange[] = [];
  let [i, j] = [0, 0];
  while (i < older.length || j < newer.length) {
    const start = j;
    const from = i;
    while ((i < older.length || j < newer.length) && older[i] !== newer[j]) {
      // A line of the text before is passed over first where both ways are as long.
      const isGone =
        j === newer.length || (i < older.length && lengths[(i + 1) * width + j] >= lengths[i * width + j + 1]);
      if (isGone) i += 1;
      else j += 1;
    }
    if (start < j || from < i) ranges.push({ start, end: j });
    while (i < older.length && j < newer.length && older[i] === newer[j]) [i, j] = [i + 1, j + 1];
  }
  return ranges;
}

/** Lengths of the longest common sequences of what follows line `i` of one and `j` of the other, row by row. */
function commonLengths(older: readonly string[], newer: readonly string[]): Int32Array {
  const width = newer.length + 1;
  const lengths = new Int32Array((older.length + 1) * width);
  for (let i = older.length - 1; i >= 0; i--) {
    for (let j = newer.length - 1; j >= 0; j--) {
      const down = lengths[(i + 1) * width + j];
      const right = lengths[i * width + j + 1];
      lengths[i * width + j] = older[i] === newer[j] ? lengths[(i + 1) * width + j + 1] + 1 : Math.max(down, right);
    }
  }
  return lengths;
}

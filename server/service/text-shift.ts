/** Two versions of a text that differ in one stretch: what stands before it and after it is the same. */
export interface TextShift {
  /** Offset in the older text of what stands at `offset` of the newer one; inside the stretch, its beginning. */
  toOlder(offset: number): number;
  toNewer(offset: number): number;
}

export function textShift(older: string, newer: string): TextShift {
  const most = Math.min(older.length, newer.length);
  let before = 0;
  while (before < most && older.charCodeAt(before) === newer.charCodeAt(before)) before += 1;
  let after = 0;
  while (
    after < most - before &&
    older.charCodeAt(older.length - 1 - after) === newer.charCodeAt(newer.length - 1 - after)
  ) {
    after += 1;
  }
  const shift = (offset: number, from: number, to: number) => {
    if (offset <= before) return offset;
    return offset >= from - after ? offset + to - from : before;
  };
  return {
    toOlder: (offset) => shift(offset, newer.length, older.length),
    toNewer: (offset) => shift(offset, older.length, newer.length),
  };
}

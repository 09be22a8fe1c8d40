/** The one stretch in which two texts differ: `older.slice(start, olderEnd)` became `newer.slice(start, newerEnd)`. */
export interface ChangedRange {
  readonly start: number;
  readonly olderEnd: number;
  readonly newerEnd: number;
}

/** The shortest such stretch; where several are, the last one. Empty at the end of equal texts. */
export function changedRange(older: string, newer: string): ChangedRange {
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
  return { start: before, olderEnd: older.length - after, newerEnd: newer.length - after };
}

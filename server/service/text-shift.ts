import { changedRange } from "../../core/base/changed-range.ts";

/** Two versions of a text that differ in one stretch: what stands before it and after it is the same. */
export interface TextShift {
  /** Offset in the older text of what stands at `offset` of the newer one; inside the stretch, its beginning. */
  toOlder(offset: number): number;
  toNewer(offset: number): number;
}

export function textShift(older: string, newer: string): TextShift {
  const { start, olderEnd, newerEnd } = changedRange(older, newer);
  const shift = (offset: number, from: number, to: number) => {
    if (offset <= start) return offset;
    return offset >= from ? offset + to - from : start;
  };
  return {
    toOlder: (offset) => shift(offset, newerEnd, olderEnd),
    toNewer: (offset) => shift(offset, olderEnd, newerEnd),
  };
}

import assert from "node:assert/strict";
import { mergeTexts, type MergedTexts } from "../../core/merge/merge-texts.ts";

export const MARKS = { ours: "ours", theirs: "theirs", size: 7 };

export const MOVE = `# A move.
move: 1
rate: 25
keys: # all
  - at: 0 s
    name: a
    axes: { lift: 1 m, pan: 10 } # start
  # the second
  - at: 2 s
    name: b
    axes: { lift: 2 m, pan: 20 }
  - at: 4 s
    axes: { lift: 3 m, pan: 30 }
passes:
  - { name: one, times: 2 }
`;

export const SET = `set: 1
targets:
  lid: { at: [1, 2, 3] }
  cup: { at: [1, 2, 4] } # the cup
`;

export type Swap = readonly [string, string];

/** The text with each of some parts of it replaced. */
export function swapped(text: string, ...swaps: readonly Swap[]): string {
  return swaps.reduce((now, [from, to]) => {
    assert.ok(now.includes(from), from);
    return now.replace(from, to);
  }, text);
}

export const merge = (file: string, base: string | undefined, ours: string, theirs: string): MergedTexts =>
  mergeTexts(file, { base, ours, theirs }, MARKS);

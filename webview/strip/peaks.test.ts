import assert from "node:assert/strict";
import { findPeaks } from "./peaks.ts";
import { samplesOf } from "./samples.ts";

const times = Float64Array.from({ length: 11 }, (_, i) => i);
const line = (values: readonly number[], limit: number) => ({
  samples: samplesOf(times, Float64Array.from(values)),
  badness: (value: number) => Math.abs(value) / limit,
});

describe("the peaks of lines", () => {
  it("come by how near they are to the limit of their line, whatever its unit and sign", () => {
    const pan = line([0, 2, 9, 2, 0, -1, -8, -1, 0, 3, 0], 10);
    const lift = line([0, 0, 0, 0, 0.4, 0, 0, 0, 0, 0, 0.2], 0.25);
    assert.deepEqual(
      findPeaks([pan, lift], 10).map(({ line, time }) => [line, time]),
      [
        [1, 4],
        [0, 2],
        [0, 6],
        [1, 10],
        [0, 9],
      ],
    );
  });

  it("count a plateau once, at its first instant, and what is no number not at all", () => {
    const flat = line([1, 1, 5, 5, 5, 1, NaN, 4, NaN, NaN, NaN], 5);
    assert.deepEqual(
      findPeaks([flat], 10).map(({ time, badness }) => [time, badness]),
      [
        [2, 1],
        [7, 0.8],
      ],
    );
  });

  it("that lie on one another are one: who goes on gets to another place", () => {
    const both = [line([0, 0, 0, 5, 0, 0, 0, 0, 0, 0, 0], 5), line([0, 0, 0, 4, 0, 0, 0, 0, 2, 0, 0], 5)];
    assert.deepEqual(
      findPeaks(both, 10)
        .map(({ line, time }) => [line, time])
        .slice(0, 2),
      [
        [0, 3],
        [1, 8],
      ],
    );
  });
});

import assert from "node:assert/strict";
import { dashes } from "./ghost-path.ts";

/** Lengths of the pieces, which lie one behind the other within a dash. */
const lengths = (ends: readonly number[]): number[] =>
  Array.from({ length: ends.length / 6 }, (_, i) =>
    Math.hypot(ends[6 * i + 3] - ends[6 * i], ends[6 * i + 4] - ends[6 * i + 1], ends[6 * i + 5] - ends[6 * i + 2]),
  );
const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0);

describe("the dashes of a ghost's path", () => {
  it("are 120 on a long way, as long as the gaps, wherever the samples are", () => {
    for (const samples of [2, 7, 400, 5001]) {
      // 12 m along x and back along y, 24 m in all, by samples that are not evenly spread.
      const places = Array.from({ length: samples }, (_, i) => 24 * (i / (samples - 1)) ** 1.5);
      const corner = places.findIndex((s) => s > 12);
      const way = [...places.slice(0, corner), 12, ...places.slice(corner)];
      const points = Float64Array.from(way.flatMap((s) => [Math.min(s, 12), Math.max(s - 12, 0), 1]));
      const ends = dashes(points);
      assert.ok(Math.abs(sum(lengths(ends)) - 12) < 1e-6, `${samples} samples: ${sum(lengths(ends))} m of dashes`);
      assert.deepEqual(ends.slice(0, 3), [0, 0, 1]);
      // Dashes are parted by gaps: the piece that ends the first ends 0.1 m from the start.
      let end = 3;
      while (end + 3 < ends.length && Math.abs(ends[end] - ends[end + 3]) < 1e-9) end += 6;
      assert.ok(Math.abs(ends[end] - 0.1) < 1e-6, `${samples} samples: the first dash ends at ${ends[end]}`);
    }
  });

  it("are not shorter than can be seen, and nothing where nothing moves", () => {
    const short = dashes(Float64Array.of(0, 0, 0, 0.03, 0, 0));
    assert.ok(Math.abs(lengths(short)[0] - 0.012) < 1e-9);
    assert.deepEqual(dashes(Float64Array.of(1, 2, 3, 1, 2, 3, 1, 2, 3)), []);
    assert.deepEqual(dashes(new Float64Array(0)), []);
  });

  it("leave out places that are none", () => {
    const ends = dashes(Float64Array.of(0, 0, 0, NaN, 0, 0, 1, 0, 0));
    assert.ok(ends.length > 0 && ends.every(Number.isFinite));
  });
});

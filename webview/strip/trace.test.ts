import assert from "node:assert/strict";
import fc from "fast-check";
import { createExtents, extentOf } from "./extents.ts";
import { firstFrom } from "../../core/base/sampling.ts";
import { columnOf, sampleAt, samplesOf, valueAt } from "./samples.ts";
import { createColumns } from "./columns.ts";
import { traceLine, type Pen, type TraceFrame } from "./trace.ts";

const COUNT = 100_000;
const even = (count: number, duration: number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => (duration * i) / (count - 1));

interface Noted extends Pen {
  readonly points: { x: number; y: number; begins: boolean }[];
}
function notePen(): Noted {
  const points: Noted["points"] = [];
  return {
    points,
    moveTo: (x, y) => void points.push({ x, y, begins: true }),
    lineTo: (x, y) => void points.push({ x, y, begins: false }),
  };
}
/** A px a hundredth, downwards. */
const frameOf = (from: number, to: number, width = 800): TraceFrame => ({
  ...{ from, to, left: 0, width, columns: createColumns() },
  yOf: (value: number) => -100 * value,
});

describe("the extents of samples", () => {
  it("are those of every sample between, for any stretch; what is not finite is not there", () => {
    const numbers = fc.array(fc.oneof(fc.double({ noNaN: false, min: -1e6, max: 1e6 }), fc.constant(Infinity)), {
      minLength: 1,
      maxLength: 700,
    });
    fc.assert(
      fc.property(numbers, fc.nat(700), fc.nat(700), (values, a, b) => {
        const [from, to] = [Math.min(a, b, values.length), Math.min(Math.max(a, b), values.length)];
        const extents = createExtents(samplesOf(even(values.length, 1), Float64Array.from(values)));
        const finite = values.slice(from, to).filter(Number.isFinite);
        const expected = { low: Math.min(...finite), high: Math.max(...finite) };
        assert.deepEqual(extentOf(extents, from, to, { low: 0, high: 0 }), expected);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("read a column of a table where it stands, in the unit that is asked for", () => {
    const samples = columnOf(even(3, 2), Float64Array.of(1, 10, 2, 20, 4, 40), 1, 2, 3, 0.5);
    assert.deepEqual(
      [0, 1, 2].map((i) => sampleAt(samples, i)),
      [30.5, 60.5, 120.5],
    );
    assert.equal(valueAt(samples, 1.5), 90.5);
    assert.equal(valueAt(samples, -1), 30.5);
    assert.equal(valueAt(samples, 9), 120.5);
    assert.deepEqual(
      [-1, 0, 0.5, 2, 3].map((time) => firstFrom(samples.times, time)),
      [0, 0, 1, 2, 3],
    );
  });
});

describe("a curve of 100,000 samples", () => {
  const times = even(COUNT, 100);
  const spike = 61_803;
  const values = Float64Array.from({ length: COUNT }, (_, i) => Math.sin(i / 900) + (i === spike ? 50 : 0));
  const extents = createExtents(samplesOf(times, values));

  it("keeps a spike of one sample at every zoom, above the column of its time", () => {
    for (let length = 100; length > 0.002; length /= 1.7) {
      for (const share of [0.01, 0.37, 0.5, 0.99]) {
        const from = times[spike] - share * length;
        const pen = notePen();
        traceLine(extents, frameOf(from, from + length), pen);
        const top = pen.points.filter(({ y }) => y < -4000);
        assert.ok(top.length > 0, `lost at ${length} s`);
        for (const { x } of top) assert.ok(Math.abs(x - share * 800) <= 1, `${x} is not at ${share * 800}`);
        // Four places a column, and one beyond each end.
        assert.ok(pen.points.length <= 4 * 800 + 2, `${pen.points.length} places`);
      }
    }
  });

  it("goes through every sample where there is room, and from beyond one edge to beyond the other", () => {
    const pen = notePen();
    traceLine(extents, frameOf(10.0004, 10.1004), pen);
    const shown = [...times.keys()].filter((i) => times[i] >= 10.0004 && times[i] <= 10.1004);
    assert.deepEqual(
      pen.points.map(({ y }) => y),
      [shown[0] - 1, ...shown, shown[shown.length - 1] + 1].map((i) => -100 * values[i]),
    );
    assert.ok(pen.points[0].x < 0 && pen.points[pen.points.length - 1].x > 800);
    assert.deepEqual(
      pen.points.map(({ begins }) => begins),
      pen.points.map((_, i) => i === 0),
    );
  });

  it("touches in each column the lowest and the highest of its samples, and enters where the last one left", () => {
    const pen = notePen();
    traceLine(extents, frameOf(0, 100, 500), pen);
    for (const column of [0, 17, 309, 499]) {
      const own = pen.points.filter(({ x }) => x === column + 0.5).map(({ y }) => y / -100);
      const inside = [...times.keys()].filter((i) => Math.min(499, Math.floor(times[i] * 5)) === column);
      const all = inside.map((i) => values[i]);
      // Where a column holds less than half a px, its middle stands for it.
      const off = Math.max(...all) - Math.min(...all) < 0.005 ? 0.0025 : 1e-12;
      assert.ok(Math.abs(Math.max(...own) - Math.max(...all)) <= off);
      assert.ok(Math.abs(Math.min(...own) - Math.min(...all)) <= off);
      assert.ok(Math.abs(own[0] - all[0]) <= off);
    }
  });

  it("leaves a gap where there is no number, dense or not", () => {
    const gappy = values.slice();
    gappy.fill(NaN, 40_000, 60_000);
    // In the middle of a column, where it hides nothing.
    gappy[20_010] = Infinity;
    const own = createExtents(samplesOf(times, gappy));
    const wide = notePen();
    traceLine(own, frameOf(0, 100), wide);
    assert.equal(wide.points.filter(({ begins }) => begins).length, 2);
    assert.ok(wide.points.every(({ x, y }) => Number.isFinite(y) && !(x > 0.405 * 800 && x < 0.595 * 800)));
    const near = notePen();
    traceLine(own, frameOf(19.96, 20.06), near);
    assert.deepEqual(near.points.filter(({ begins }) => begins).length, 2);
  });

  it("is traced within a fraction of a picture", () => {
    // A busy machine takes from most turns: the best one tells.
    const spent = Array.from({ length: 40 }, () => {
      const before = performance.now();
      traceLine(extents, frameOf(0, 100), notePen());
      return performance.now() - before;
    });
    const best = Math.min(...spent);
    assert.ok(best < 2, `${best.toFixed(2)} ms`);
  });
});

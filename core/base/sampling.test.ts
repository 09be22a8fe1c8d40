import assert from "node:assert/strict";
import fc from "fast-check";
import { between, sampleBefore, shareOfWay, throughBoth } from "./sampling.ts";

describe("looking up samples", () => {
  it("finds the pair of samples around a time, as a walk through all of them does", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 10, noNaN: true }), { minLength: 2, maxLength: 40 }),
        fc.double({ min: -1, max: 11, noNaN: true }),
        (unsorted, t) => {
          const times = Float64Array.from(unsorted).sort();
          const found = sampleBefore(times, t);
          let walked = 0;
          for (let i = 0; i + 1 < times.length; i++) if (times[i] <= t) walked = i;
          assert.equal(found, walked);
          const way = shareOfWay(times, found, t);
          assert.ok(0 <= way && way <= 1);
        },
      ),
      { seed: 11, numRuns: 500 },
    );
  });

  it("takes the later of two samples at one time", () => {
    const times = Float64Array.of(0, 1, 1, 2);
    assert.equal(sampleBefore(times, 1), 2);
    assert.equal(shareOfWay(times, 1, 1), 1);
  });

  it("answers for one sample, and for none", () => {
    assert.equal(sampleBefore(Float64Array.of(0), 5), 0);
    assert.equal(shareOfWay(Float64Array.of(0), 0, 5), 0);
    assert.equal(sampleBefore(new Float64Array(0), 5), 0);
  });

  it("meets a cubic exactly from its values and speeds", () => {
    const curve = (t: number): number => 2 - t + 3 * t * t - 0.7 * t ** 3;
    const speed = (t: number): number => -1 + 6 * t - 2.1 * t * t;
    for (const s of [0, 0.1, 0.5, 0.83, 1]) {
      const t = 0.4 + 1.3 * s;
      const value = throughBoth(curve(0.4), speed(0.4), curve(1.7), speed(1.7), 1.3, s);
      assert.ok(Math.abs(value - curve(t)) < 1e-12, `${value} at ${t}`);
    }
  });

  it("never makes a number out of none, nor none out of one", () => {
    assert.equal(between(1, NaN, 0.2), 1);
    assert.ok(Number.isNaN(between(1, NaN, 0.8)));
    assert.equal(throughBoth(1, NaN, 3, 0, 1, 0.5), 2);
    assert.equal(between(2, Infinity, 0.4), 2);
    assert.equal(between(2, Infinity, 0.6), Infinity);
  });
});

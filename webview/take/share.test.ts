import assert from "node:assert/strict";
import { openTake } from "./open-take.ts";
import { reading, shareReading } from "./reading.ts";
import { axisShare, bandOf, limitShare, peakShares, rangeShare, worstAt } from "./share.ts";
import { smallTake } from "../../test/stage/small-take.ts";

describe("shares of limits", () => {
  // Two samples: the slide at 0.1 and 0.3 m/s of 0.4, accelerating at 0.5 and -0.6 of 0.5 m/s²; the pan has no limits.
  const open = openTake(smallTake());

  it("are the size of the value over the limit, whichever its sign", () => {
    assert.ok(Math.abs(limitShare(open, 0, 1, 1) - 0.75) < 1e-6);
    assert.ok(Math.abs(limitShare(open, 0, 2, 1) - 1.2) < 1e-6);
    assert.ok(Number.isNaN(limitShare(open, 1, 1, 0)));
  });

  it("are led by the worst, per axis and over all", () => {
    assert.ok(Math.abs(axisShare(open, 0, 0) - 1) < 1e-6);
    assert.equal(axisShare(open, 1, 0), 0);
    const worst = worstAt(open, 1);
    assert.deepEqual([worst?.axis, worst?.order], [0, 2]);
    assert.ok(Math.abs(peakShares(open)[0] - 1.2) < 1e-6);
  });

  it("of a range count from its middle", () => {
    const axis = open.stage.axes[0];
    assert.equal(rangeShare({ ...axis, range: { low: 0, high: 2 } }, 1), 0);
    assert.equal(rangeShare({ ...axis, range: { low: 0, high: 2 } }, 2), 1);
    assert.equal(rangeShare({ ...axis, range: { low: 1, high: 1 } }, 1.1), Infinity);
    assert.ok(Number.isNaN(rangeShare({ ...axis, range: undefined }, 1)));
  });

  it("fall into bands; a limit just met is not over", () => {
    assert.deepEqual([0, 0.59, 0.6, 0.9, 1, 1 + 1e-9, 1.001, Infinity, NaN].map(bandOf), [
      ...["calm", "calm", "busy", "near", "near", "near", "over", "over", "calm"],
    ]);
  });
});

describe("readings", () => {
  it("are degrees and metres, without a minus before nothing", () => {
    assert.equal(reading("rotary", 0, Math.PI / 2), "90.00 °");
    assert.equal(reading("linear", 1, -0.25), "-0.250 m/s");
    assert.equal(reading("linear", 0, -1e-9), "0.000 m");
    assert.equal(reading("rotary", 3, Infinity), "unbounded");
    assert.equal(reading("rotary", 3, NaN), "–");
  });

  it("of a share over a limit never say 100 %, of one below never more than 99", () => {
    assert.equal(shareReading(1.002), "over 100 %");
    assert.equal(shareReading(1), "100 %");
    assert.equal(shareReading(0.999), "99 %");
    assert.equal(shareReading(0.874), "87 %");
    assert.equal(shareReading(1.27), "127 %");
    assert.equal(shareReading(Infinity), "unbounded");
  });
});

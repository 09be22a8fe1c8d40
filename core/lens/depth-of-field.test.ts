import assert from "node:assert/strict";
import { blurCircle, depthOfField } from "./depth-of-field.ts";

const FOOT = 0.3048;

function assertNear(value: number, expected: number, tolerance: number): void {
  assert.ok(Math.abs(value - expected) <= tolerance, `${value} against ${expected}`);
}

describe("depthOfField", () => {
  it("agrees with published examples", () => {
    // insyncpubs.com, depth of field article: 50 mm at f/4, 0.03 mm, 10 ft gives 8'9" to 11'8".
    const feet = depthOfField(0.05, 4, 3e-5, 10 * FOOT);
    assertNear(feet.near / FOOT, 8 + 9 / 12, 1 / 24);
    assertNear(feet.far / FOOT, 11 + 8 / 12, 1 / 24);
    // illuma.blogspot.com, March 2014: 50 mm at f/4, 0.018 mm has its hyperfocal distance at 34772 mm.
    assertNear(depthOfField(0.05, 4, 1.8e-5, 3).hyperfocal, 34.772, 5e-4);
  });

  it("agrees with the formulas by hand", () => {
    const rows: [number, number, number, number, number, number, number][] = [
      [0.05, 4, 1.8e-5, 3, 34.7722, 2.7651, 3.2785],
      [0.035, 5.6, 2.5e-5, 2, 8.785, 1.6332, 2.5792],
      [0.1, 2.8, 2.5e-5, 3, 142.9571, 2.9403, 3.0622],
      [0.025, 8, 2.5e-5, 4, 3.15, 1.7606, Infinity],
    ];
    for (const [f, n, c, s, hyperfocal, near, far] of rows) {
      const depth = depthOfField(f, n, c, s);
      assertNear(depth.hyperfocal, hyperfocal, 5e-5);
      assertNear(depth.near, near, 5e-5);
      if (far === Infinity) assert.equal(depth.far, Infinity);
      else assertNear(depth.far, far, 5e-5);
    }
  });

  it("has no far limit from the hyperfocal distance on, and half of it as near limit there", () => {
    const { hyperfocal } = depthOfField(0.035, 2.8, 3e-5, 1);
    const there = depthOfField(0.035, 2.8, 3e-5, hyperfocal);
    assertNear(there.near, hyperfocal / 2, 1e-12);
    assert.equal(there.far, Infinity);
    assert.deepEqual(depthOfField(0.035, 2.8, 3e-5, Infinity), { hyperfocal, near: hyperfocal - 0.035, far: Infinity });
  });

  it("gives NaN within the focal length, where no picture forms", () => {
    const depth = depthOfField(0.05, 4, 3e-5, 0.04);
    assert.ok(Number.isNaN(depth.near) && Number.isNaN(depth.far));
  });
});

describe("blurCircle", () => {
  it("is the circle of confusion at both ends of the depth of field, and 0 where the lens is focused", () => {
    for (const [f, n, c, s] of [
      [0.05, 4, 1.8e-5, 3],
      [0.035, 5.6, 2.5e-5, 2],
      [0.1, 2.8, 2.5e-5, 3],
    ]) {
      const { near, far, hyperfocal } = depthOfField(f, n, c, s);
      assertNear(blurCircle(f, n, s, near), c, 1e-15);
      assertNear(blurCircle(f, n, s, far), c, 1e-15);
      assert.equal(blurCircle(f, n, s, s), 0);
      // Set to infinity, it is so wide at the hyperfocal distance less a focal length; focused there, infinitely far.
      assertNear(blurCircle(f, n, Infinity, hyperfocal - f), c, 1e-15);
      assertNear(blurCircle(f, n, hyperfocal, 1e12), c, 1e-14);
    }
  });

  it("goes with one over the f-number", () => {
    assertNear(blurCircle(0.035, 5.6, 2, 3), blurCircle(0.035, 2.8, 2, 3) / 2, 1e-18);
  });

  it("is NaN where the lens forms no picture", () => {
    for (const [s, x] of [
      [0.04, 1],
      [1, 0],
      [1, -2],
    ])
      assert.ok(Number.isNaN(blurCircle(0.05, 4, s, x)));
  });
});

import assert from "node:assert/strict";
import { travelAlong } from "./travel.ts";

const sampled = (count: number, value: (s: number) => number): Float64Array =>
  Float64Array.from({ length: count + 1 }, (_, i) => value(i / count));

describe("travelAlong", () => {
  it("is the way from end to end where nothing turns back", () => {
    assert.equal(travelAlong([0, 0.1, 0.5, 2]), 2);
    assert.equal(travelAlong([2, 1, -3]), 5);
    assert.equal(travelAlong([1, 1, 1]), 0);
    assert.equal(travelAlong([]), 0);
  });

  it("is exact for a parabola, wherever its vertex is between the samples: 4 (s - c)² goes 4 c² + 4 (1 - c)²", () => {
    for (const c of [0.31, 0.35, 0.4, 0.5, 0.62]) {
      const expected = 4 * c ** 2 + 4 * (1 - c) ** 2;
      const travelled = travelAlong(sampled(5, (s) => 4 * (s - c) ** 2));
      assert.ok(Math.abs(travelled - expected) < 1e-12, `${c}: ${travelled} is not ${expected}`);
    }
  });

  it("is within 1 % of three swings of a sine looked at five times a swing, within 0.1 % at ten times", () => {
    const travelled = travelAlong(sampled(15, (s) => Math.sin(3 * Math.PI * s)));
    assert.ok(Math.abs(travelled / 6 - 1) < 0.01, `${travelled}`);
    assert.ok(Math.abs(travelAlong(sampled(30, (s) => Math.sin(3 * Math.PI * s))) / 6 - 1) < 1e-3);
  });
});

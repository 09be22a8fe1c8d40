import assert from "node:assert/strict";
import fc from "fast-check";
import { seededRandom } from "../base/random.ts";
import { erf } from "./error-function.ts";
import { quickRadius, quickRadiusOf, radiusHolding, shareWithin, spreadOf, type Spread } from "./spread.ts";

const near = (actual: number, expected: number, slack: number): void =>
  assert.ok(Math.abs(actual - expected) <= slack, `${actual} is not ${expected}`);

const spread = (major: number, minor: number, along = 0, across = 0): Spread => ({
  major,
  minor,
  angle: 0,
  along,
  across,
});

describe("erf", () => {
  it("agrees with Abramowitz & Stegun, table 7.1, ten digits", () => {
    for (const [x, value] of [
      [0, 0],
      [0.1, 0.112462916],
      [0.5, 0.5204998778],
      [1, 0.8427007929],
      [1.5, 0.9661051465],
      [2, 0.995322265],
      [2.5, 0.999593048],
      [3, 0.9999779095],
    ]) {
      near(erf(x), value, 5e-11);
      near(erf(-x), -value, 5e-11);
    }
    assert.equal(erf(7), 1);
    assert.equal(erf(-Infinity), -1);
  });
});

describe("a spread in the plane", () => {
  it("holds the shares of the Rayleigh distribution where it is round", () => {
    // P(r < 2 σ) = 1 - exp(-2) = .864665, half of it within 1.177410 σ (CEP), 95 % within √(-2 ln .05) = 2.447747 σ.
    near(shareWithin(spread(1, 1), 2), 0.864664717, 1e-9);
    near(radiusHolding(spread(1, 1), 0.5), 1.17741, 1e-6);
    near(radiusHolding(spread(3, 3), 0.95), 3 * 2.447746831, 1e-8);
    near(radiusHolding(spread(3, 2.999999999), 0.95), 3 * 2.447746831, 1e-6);
  });

  it("holds those of the normal distribution where it is a line: 95 % within 1.959964 σ", () => {
    near(radiusHolding(spread(1, 0), 0.95), 1.959963985, 1e-8);
    near(radiusHolding(spread(1, 1e-8), 0.95), 1.959963985, 1e-8);
    near(radiusHolding(spread(1, 1e-4), 0.95), 1.959963985, 1e-7);
  });

  it("agrees with a dense sum over polar angles in between", () => {
    // For a centred one: 1 - share = 1/2π ∫ exp(-r² g(θ) / 2) / (major minor g(θ)) dθ, g = cos²/major² + sin²/minor².
    const polar = (a: number, b: number, r: number): number => {
      let sum = 0;
      const n = 20000;
      for (let k = 0; k < n; k++) {
        const th = (2 * Math.PI * (k + 0.5)) / n;
        const g = (Math.cos(th) / a) ** 2 + (Math.sin(th) / b) ** 2;
        sum += Math.exp((-r * r * g) / 2) / (a * b * g);
      }
      return 1 - sum / n;
    };
    for (const minor of [0.9, 0.5, 0.2, 0.05]) {
      for (const r of [0.3, 1, 2, 3]) near(shareWithin(spread(1, minor), r), polar(1, minor, r), 1e-10);
      near(polar(1, minor, radiusHolding(spread(1, minor), 0.95)), 0.95, 1e-9);
    }
  });

  it("agrees with draws where its mean is off: 200,000 points, seed 5", () => {
    const random = seededRandom(5);
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    for (const each of [spread(2, 0.7, 1.5, 0.4), spread(1, 0.01, 0.2, 3), spread(0.5, 0.5, 0, 2)]) {
      const radii = Float64Array.from({ length: 200_000 }, () =>
        Math.hypot(each.along + each.major * normal(), each.across + each.minor * normal()),
      ).sort();
      const drawn = radii[Math.floor(0.95 * radii.length)];
      near(radiusHolding(each, 0.95) / drawn, 1, 0.01);
    }
    near(radiusHolding(spread(0, 0, 3, 4), 0.95), 5, 1e-12);
    assert.equal(radiusHolding(spread(0, 0), 0.95), 0);
  });

  it("knows the radius of 95 % to 3e-5 without integrating", () => {
    for (let k = 0; k <= 200; k++) {
      const each = spread(1.7, (1.7 * k) / 200);
      near(quickRadius(each) / radiusHolding(each, 0.95), 1, 3e-5);
    }
    assert.equal(quickRadius(spread(0, 0)), 0);
    const columns = [9, 9, 1, 2, -0.5, 1, 0.3, 0.1];
    const exact = radiusHolding(spreadOf(columns.slice(2), [1, 2, 3]), 0.95);
    near(quickRadiusOf(columns, 2, [1, 2, 3]) / exact, 1, 3e-5);
    assert.equal(quickRadiusOf(columns, 2, [0, 0, 0]), 0);
    assert.ok(Number.isNaN(quickRadiusOf([NaN, 1], 0, [1])));
  });

  it("grows with every part of it", () => {
    const part = fc.double({ min: 0, max: 10, noNaN: true }).map((x) => (x < 1e-6 ? 0 : x));
    fc.assert(
      fc.property(part, part, part, part, (a, b, along, across) => {
        const [major, minor] = [Math.max(a, b), Math.min(a, b)];
        const radius = radiusHolding(spread(major, minor, along, across), 0.95);
        assert.ok(Number.isFinite(radius) && 0 <= radius);
        const off = Math.hypot(along, across);
        assert.ok(radius <= off + 2.4478 * major + 1e-9);
        near(shareWithin(spread(major, minor, along, across), radius * (1 + 1e-6) + 1e-12), 0.95, major > 0 ? 1e-3 : 1);
        assert.ok(radius <= radiusHolding(spread(1.1 * major + 0.1, minor, along, across), 0.95) + 1e-7);
      }),
      { numRuns: 300, seed: 3 },
    );
  });
});

describe("spreadOf", () => {
  it("adds independent errors: the budget of pan, tilt, dolly and arm at 3 m with 5303.8674 px", () => {
    // px = f_px · tan(angle), px = f_px · d / Z; roots of sums of squares 1.45608 of all four, 1.12395 across.
    const fpx = 5303.8674;
    const turn = fpx * Math.tan((0.01 * Math.PI) / 180);
    const slide = (d: number): number => (fpx * d) / 3;
    near(turn, 0.9257, 5e-6);
    near(slide(0.0002), 0.35359, 5e-6);
    const columns = [turn, 0, 0, turn, slide(0.0002), 0, slide(0.0003), 0];
    const all = spreadOf(columns, [1, 1, 1, 1]);
    near(Math.hypot(all.major, all.minor), 1.45608, 5e-6);
    near(all.major, 1.12395, 5e-6);
    near(all.minor, 0.9257, 5e-6);
  });

  it("finds the directions of a spread and turns its mean into them", () => {
    const [c, s] = [Math.cos(0.6), Math.sin(0.6)];
    const turned = spreadOf([c, s, -s, c], [9, 4], [2 * c - 1 * s, 2 * s + 1 * c]);
    near(turned.major, 3, 1e-12);
    near(turned.minor, 2, 1e-12);
    near(Math.abs(turned.along), 2, 1e-12);
    near(Math.abs(turned.across), 1, 1e-12);
    assert.deepEqual(spreadOf([], []), { major: 0, minor: 0, angle: 0, along: 0, across: 0 });
    near(spreadOf([1, 1, 1, 1], [1, 1]).minor, 0, 1e-12);
  });
});

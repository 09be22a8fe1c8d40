import assert from "node:assert/strict";
import { optics } from "../../test/support/lenses.ts";
import { distortionIsMonotone } from "./monotone.ts";

const none = { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 };

describe("distortionIsMonotone", () => {
  it("holds without distortion and for a few per cent of barrel, pincushion or wave", () => {
    assert.equal(distortionIsMonotone(optics({}), 0.018), true);
    for (const d of [
      { ...none, k1: -0.08 },
      { ...none, k1: 0.05 },
      { ...none, k1: -0.1, k2: 0.05, k3: -0.01, p1: 0.001, p2: -0.002 },
    ]) {
      assert.equal(distortionIsMonotone(optics({ distortion: d }), 0.024), true);
    }
  });

  it("fails where the radius turns inside the picture", () => {
    // r (1 + k1 r²) turns at r = sqrt(-1 / 3 k1) = 0.577 and then reaches 0.385 at most; the corner is at 0.590.
    assert.equal(distortionIsMonotone(optics({ distortion: { ...none, k1: -1 } }), 0.035), false);
    // With a longer lens the corner is at 0.207 and is reached before the turn.
    assert.equal(distortionIsMonotone(optics({ distortion: { ...none, k1: -1 } }), 0.1), true);
  });

  it("fails where tangential terms fold the picture", () => {
    assert.equal(distortionIsMonotone(optics({ distortion: { ...none, p1: -0.6 } }), 0.02), false);
  });

  it("fails where a wave of the radius turns back and forth again within the picture", () => {
    // d/dr of r (1 - 2.4 r² + k2 r⁴) has its least value 1 - 7.2² / (20 k2) near r = 0.5: above 0 for k2 = 2.6 only.
    assert.equal(distortionIsMonotone(optics({ distortion: { ...none, k1: -2.4, k2: 2.6 } }), 0.02), true);
    assert.equal(distortionIsMonotone(optics({ distortion: { ...none, k1: -2.4, k2: 2.4 } }), 0.02), false);
  });
});

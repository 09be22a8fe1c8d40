import assert from "node:assert/strict";
import fc from "fast-check";
import { nearestTurn, TURN, turnWithin, wrapAngle } from "./angle.ts";

const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });

describe("whole turns", () => {
  it("are taken off to -pi..pi, or to the turn nearest to a value", () => {
    fc.assert(
      fc.property(part(100), part(100), (angle, near) => {
        assert.ok(Math.abs(wrapAngle(angle)) <= Math.PI + 1e-12);
        const best = nearestTurn(angle, near);
        assert.ok(Math.abs(best - near) <= Math.PI + 1e-12);
        assert.ok(Math.abs(Math.sin((best - angle) / 2)) < 1e-12, "differs by whole turns only");
      }),
      { numRuns: 500, seed: 1 },
    );
  });

  it("are chosen inside a range, the nearest one there, or none", () => {
    fc.assert(
      fc.property(
        part(20),
        part(20),
        part(15),
        fc.double({ min: 0, max: 15, noNaN: true }),
        (angle, near, low, span) => {
          const high = low + span;
          const found = turnWithin(angle, near, low, high, 0);
          const all: number[] = [];
          for (let k = -12; k <= 12; k++) {
            const value = angle + k * TURN;
            // On the very end of a range rounding decides.
            fc.pre(1e-9 < Math.abs(value - low) && 1e-9 < Math.abs(high - value));
            if (low <= value && value <= high) all.push(value);
          }
          const best = all.length === 0 ? undefined : Math.min(...all.map((value) => Math.abs(value - near)));
          assert.equal(found === undefined, best === undefined, `${found} ${all.join()}`);
          if (found !== undefined) assert.ok(Math.abs(Math.abs(found - near) - best!) < 1e-9);
        },
      ),
      { numRuns: 2000, seed: 2 },
    );
    assert.equal(turnWithin(0.1, 0, 1, 2, 0), undefined);
    assert.ok(Math.abs(turnWithin(0.1, 0, 6, 7, 0)! - (0.1 + TURN)) < 1e-12);
  });
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { isWhole, panned, pinched, SHORTEST, showing, within, zoomed, type TimeWindow } from "./time-window.ts";

const near = (a: number, b: number): void => assert.ok(Math.abs(a - b) < 1e-9, `${a} is not ${b}`);
const same = (a: TimeWindow, from: number, to: number): void => (near(a.from, from), near(a.to, to));

describe("the window of time", () => {
  it("zooms about a time that stays where it is", () => {
    same(zoomed({ from: 0, to: 10 }, 0.5, 4, 10), 2, 7);
    same(zoomed({ from: 2, to: 7 }, 2, 4, 10), 0, 10);
    same(zoomed({ from: 0, to: 10 }, 0.5, 0, 10), 0, 5);
  });

  it("pans to the ends and no farther, and follows a time that leaves it", () => {
    same(panned({ from: 2, to: 4 }, 1, 10), 3, 5);
    same(panned({ from: 2, to: 4 }, -9, 10), 0, 2);
    same(panned({ from: 2, to: 4 }, 9, 10), 8, 10);
    same(showing({ from: 2, to: 4 }, 3, 0.1, 10), 2, 4);
    same(showing({ from: 2, to: 4 }, 5, 0.1, 10), 3.2, 5.2);
    same(showing({ from: 2, to: 4 }, 1, 0.1, 10), 0.8, 2.8);
  });

  it("keeps what two fingers hold under them", () => {
    same(pinched(2, 0.25, 4, 0.75, 10), 1, 5);
    same(pinched(2, 0, 4, 1, 10), 2, 4);
    same(pinched(2, 0.5, 4, 0.5, 10), 0, 10);
  });

  it("never leaves the move, never turns over, never gets shorter than can be seen", () => {
    const time = fc.double({ noNaN: true, min: -100, max: 100 });
    const whole = fc.double({ noNaN: true, min: 0.02, max: 50 });
    fc.assert(
      fc.property(whole, time, time, time, fc.double({ noNaN: true, min: 1e-3, max: 1e3 }), (end, a, b, c, factor) => {
        const first = within({ from: Math.min(a, b), to: Math.max(a, b) }, end);
        for (const one of [first, zoomed(first, factor, c, end), panned(first, c, end), pinched(a, 0.1, b, 0.9, end)]) {
          assert.ok(0 <= one.from && one.to <= end + 1e-9 && one.to - one.from >= SHORTEST - 1e-9, JSON.stringify(one));
        }
      }),
      { seed: 8, numRuns: 500 },
    );
    assert.ok(isWhole({ from: 0, to: 10 }, 10) && !isWhole({ from: 0, to: 9 }, 10));
  });
});

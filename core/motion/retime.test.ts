import assert from "node:assert/strict";
import { aimAt, moveOf, sliderRig, still } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import { stretched, stretchSegment } from "./retime.ts";

describe("stretching a segment", () => {
  it("from rest to rest takes the closed form of each order", () => {
    const move = moveOf(sliderRig(), [
      { time: 0, axes: { slide: 0 } },
      { time: 2, axes: { slide: 1 } },
    ]);
    // Peaks 15/8 d/T, 10/√3 d/T², 60 d/T³ of the minimum-jerk curve.
    const cases = [
      [1, 0.5, (1.875 * 1) / 0.5],
      [2, 0.5, Math.sqrt(10 / Math.sqrt(3) / 0.5)],
      [3, 2, Math.cbrt(60 / 2)],
    ] as const;
    for (const [order, most, time] of cases) {
      const factor = runToEnd(stretchSegment(move, { from: 0, to: 1 }, [{ axis: 0, order, most }]));
      assert.ok(
        factor !== undefined && time / 2 <= factor && factor <= (time / 2) * 1.001,
        `${factor} for ${time / 2}`,
      );
    }
  });

  it("brings a solved pan just inside its limit, the later keys moved along", () => {
    const move = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: -0.4 }, aim: aimAt(0) },
        { time: 1.5, axes: { slide: 0.5 } },
        { time: 4, axes: { slide: 0.2 } },
      ],
      { targets: [still("pot", [0.8, 0, 1.1])] },
    );
    const limit = { axis: 1, order: 1, most: 0.6 } as const;
    const factor = runToEnd(stretchSegment(move, { from: 0, to: 1 }, [limit]));
    assert.ok(factor !== undefined && 1 < factor);
    const peak = (by: number): number => {
      const trial = stretched(move, { from: 0, to: 1 }, by);
      const { low, high } = runToEnd(planTrajectory(trial)).extremes(1, 1, 0, trial.keys[1].time);
      return Math.max(-low.value, high.value);
    };
    assert.ok(peak(factor) <= 0.6 && 0.6 < peak(factor / 1.001));
    const after = stretched(move, { from: 0, to: 1 }, factor);
    assert.ok(Math.abs(after.keys[2].time - after.keys[1].time - 2.5) < 1e-12);
  });

  it("is 1 where the limits hold, and nothing where time does not help", () => {
    const move = moveOf(sliderRig(), [
      { time: 0, axes: { slide: 0 } },
      { time: 2, axes: { slide: 1 } },
    ]);
    const segment = { from: 0, to: 1 };
    assert.equal(runToEnd(stretchSegment(move, segment, [{ axis: 0, order: 1, most: 10 }])), 1);
    assert.equal(runToEnd(stretchSegment(move, segment, [{ axis: 0, order: 1, most: 0 }])), undefined);
  });
});

import assert from "node:assert/strict";
import { aimAt, moveOf, sliderRig, still } from "../../test/support/moves.ts";
import { limited, randomLimitedMove } from "../../test/support/limits.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { CUT, fitSegments, type SegmentsFit } from "./retime-segments.ts";
import { limitShares } from "./retime-shares.ts";
import { timingOf, withTiming } from "./retime-timing.ts";
import { fitWhole } from "./retime-whole.ts";

const fitted = (move: ResolvedMove, step = 0): SegmentsFit => {
  const fit = runToEnd(fitSegments(move, step));
  assert.equal(fit.status, "fitted", JSON.stringify(fit));
  return fit as SegmentsFit;
};

/** The largest share of a limit, by a plan of its own. */
const greatest = (move: ResolvedMove): number =>
  Math.max(...runToEnd(limitShares(runToEnd(planTrajectory(move)))).map(({ share }) => share));

const withWay = (move: ResolvedMove, key: number, by: (way: number) => number): ResolvedMove => {
  const { ways, holds } = timingOf(move);
  return withTiming(move, { ways: ways.map((way, i) => (i === key ? by(way) : way)), holds });
};

/** Slide to and fro with a rest between two ways: each way is on its own. */
const threeWays = limited(
  moveOf(
    sliderRig(),
    [
      { time: 0, axes: { slide: 0 } },
      { time: 1, axes: { slide: 0.5 }, stop: true },
      { time: 10, axes: { slide: -0.4 }, stop: true },
      { time: 11, axes: { slide: -0.4 } },
      { time: 12, axes: { slide: -0.1 } },
    ],
    { targets: [still("pot", [2, 0, 1])] },
  ),
  { slide: { speed: 0.3 } },
);

/** What rounding may make of a share that is 1. */
const ROUNDING = 1e-12;

describe("every segment at its bound", () => {
  it("takes the closed form way by way where the move rests between, and leaves rests", () => {
    const fit = fitted(threeWays);
    const { ways } = timingOf(fit.move);
    // 1.875 d/T of the least-jerk way (Flash & Hogan 1985).
    const best = [0, 0.5, 0.9, NaN, 0.3].map((rise) => (1.875 * rise) / 0.3);
    for (const i of [1, 2, 4]) {
      assert.ok(best[i] <= ways[i] * (1 + 1e-9) && ways[i] <= best[i] * (1 + CUT), `${ways[i]} for ${best[i]}`);
    }
    assert.ok(Math.abs(ways[3] - 1) < 1e-9, "a way on which nothing moves stays");
    assert.deepEqual(fit.untouched, [3]);
  });

  it("leaves holds, and ways the room that their ramps need", () => {
    const held = limited(
      moveOf(sliderRig(), [
        { time: 0, axes: { slide: 0 } },
        { time: 4, axes: { slide: 0.3 }, hold: 2, ease: { kind: "linear", ramp: 1.5 } },
        { time: 10, axes: { slide: 0 } },
      ]),
      { slide: { speed: 0.3 } },
    );
    const { ways, holds } = timingOf(fitted(held).move);
    // Two ramps of 1.5 s; at 0.3 m/s the way itself would take 0.3 / 0.3 + 1.5 = 2.5 s.
    assert.ok(3 - 1e-6 <= ways[1] && ways[1] <= 3 * (1 + CUT), `${ways[1]} s`);
    assert.deepEqual(holds, [0, 2, 0]);
    assert.ok(1.875 <= ways[2] && ways[2] <= 1.875 * (1 + CUT));
  });

  it("makes ways of whole steps, none of which can be taken away", () => {
    const step = 1 / 25;
    const fit = fitted(threeWays, step);
    for (const key of [1, 2, 4]) {
      const way = timingOf(fit.move).ways[key];
      assert.ok(Math.abs(way / step - Math.round(way / step)) < 1e-6, `${way} s`);
      const cut = Math.max(step, Math.ceil((CUT * way) / step) * step);
      assert.ok(1 < greatest(withWay(fit.move, key, (now) => now - cut)));
    }
    assert.ok(greatest(fit.move) <= 1 + ROUNDING);
  });

  it("is shorter than the whole move at its bound, and the same each time", () => {
    const move = limited(
      moveOf(
        sliderRig(),
        [-0.4, 0.3, 0.35, -0.2, 0.4].map((slide, i) => ({
          time: 2 * i,
          axes: { slide },
          ...(i === 0 && { aim: aimAt(0) }),
        })),
        { targets: [still("pot", [1.2, 0, 1.1])] },
      ),
      { slide: { speed: 0.4, accel: 0.5, jerk: 3 }, pan: { speed: 0.5, accel: 0.8, jerk: 4 } },
    );
    const whole = runToEnd(fitWhole(move));
    assert.ok(whole.status === "fitted");
    const fit = fitted(move);
    assert.ok(fit.trajectory.duration < 0.9 * whole.trajectory.duration);
    assert.deepEqual(fitted(move).move, fit.move);
    // Where the search starts from does not matter much: the times that are written are only a start.
    const slower = fitted(withTiming(move, { ...timingOf(move), ways: [0, 3, 1, 2, 9] }));
    assert.ok(Math.abs(slower.trajectory.duration / fit.trajectory.duration - 1) < 0.1);
  });

  it("can be dropped at any of its many yields", () => {
    const task = fitSegments(randomLimitedMove(11), 0);
    let yields = 0;
    while (!task.next().done) yields += 1;
    assert.ok(200 < yields, `${yields} yields`);
    const dropped = fitSegments(randomLimitedMove(11), 0);
    for (let i = 0; i < yields / 2; i++) assert.equal(dropped.next().done, false);
    assert.equal(dropped.return(undefined as never).done, true);
    assert.equal(dropped.next().done, true);
  });

  it("says why nothing is found", () => {
    const move = moveOf(sliderRig(), [
      { time: 0, axes: { slide: 0 } },
      { time: 1, axes: { slide: 1 } },
    ]);
    assert.equal(runToEnd(fitSegments(move, 0)).status, "no-limits");
  });

  it("leaves random moves with no way that can be cut by 1 %, every limit kept", () => {
    let done = 0;
    for (const seed of [3, 6, 8, 10, 13, 14, 18]) {
      const move = randomLimitedMove(seed);
      const fit = runToEnd(fitSegments(move, 0));
      if (fit.status !== "fitted") continue;
      done += 1;
      assert.ok(greatest(fit.move) <= 1 + ROUNDING, `seed ${seed}`);
      timingOf(fit.move).ways.forEach((_, key) => {
        if (key === 0 || fit.untouched.includes(key)) return;
        const cut = withWay(fit.move, key, (way) => way * (1 - CUT));
        assert.ok(1 < greatest(cut), `seed ${seed}: the way to key ${key} can be cut`);
      });
    }
    assert.ok(5 <= done, `${done} of 7`);
  });
});

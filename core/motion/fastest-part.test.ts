import assert from "node:assert/strict";
import { publishedPath, straightPath } from "../../test/support/limited-paths.ts";
import { runToEnd } from "../base/task.ts";
import { fastestPart } from "./fastest-part.ts";

/** Distance, speed, acceleration and jerk of one axis, and its least time from rest to rest [s]. */
const PUBLISHED = [
  // github.com/pantor/ruckig (MIT), test/test_target.cpp.
  [1, 1, 1, 1, 3.1748021039],
  // As ruckig computes them; the seven segments of Biagiotti and Melchiorri (2008), section 3.4, give the same.
  [10, 5, 10, 30, 2.8333333],
  [2, 1, 0.5, 1, 4.5311288742],
  [3, 1.2, 0.8, 2, 4.4],
  [0.05, 1.2, 0.8, 2, 0.9283177667],
  [1, 1.2, 0.8, 2, 2.6715633383],
  [10, 10, 20, 30, 2.2012848326],
  [90, 30, 20, 40, 5],
] as const;

function within(time: number, exact: number): void {
  assert.ok(exact * (1 - 5e-4) <= time && time <= exact * 1.005, `${time} for ${exact}`);
}

describe("the fastest way along a path", () => {
  it("of one axis takes the published least times", () => {
    for (const [d, speed, accel, jerk, exact] of PUBLISHED) {
      const part = runToEnd(fastestPart(straightPath([d], [{ speed, accel, jerk }])));
      within(part.duration, exact);
      assert.ok(part.settled);
      const trapezium = speed * speed <= d * accel ? d / speed + speed / accel : 2 * Math.sqrt(d / accel);
      assert.ok(Math.abs(part.lowerBound - trapezium) < 1e-3 * trapezium);
    }
  });

  it("of several axes on a straight line is that of the slowest", () => {
    const axes = PUBLISHED.slice(0, 5);
    const limits = axes.map(([, speed, accel, jerk]) => ({ speed, accel, jerk }));
    // As all go in step, the axes' limits become those of the share of the way.
    const [V, A, J] = [1, 2, 3].map((k) => Math.min(...axes.map((axis) => axis[k] / axis[0])));
    const alone = runToEnd(fastestPart(straightPath([1], [{ speed: V, accel: A, jerk: J }])));
    const part = runToEnd(
      fastestPart(
        straightPath(
          axes.map(([d]) => d),
          limits,
        ),
      ),
    );
    assert.ok(Math.abs(part.duration - alone.duration) < 1e-3 * alone.duration);
    assert.ok(Math.max(...axes.map((axis) => axis[4])) * 0.9995 <= part.duration);
  });

  it("says which limit it is at for how long", () => {
    // 3, 1.2, 0.8, 2: four parts of 0.4 s at the jerk, two of 1.1 s at the acceleration, 0.6 s at the speed.
    const { bound } = runToEnd(fastestPart(straightPath([3], [{ speed: 1.2, accel: 0.8, jerk: 2 }])));
    const exact = [0.6, 2.2, 1.6];
    exact.forEach((time, i) => assert.ok(Math.abs(bound[i] - time) < 0.2, `${i}: ${bound[i]} for ${time}`));
  });

  it("without limits of jerk comes to the time of the reachability analysis", () => {
    const line = runToEnd(
      fastestPart(
        straightPath(
          [0.2, 0.3, -1],
          [0.1, 0.2, 0.3].map((speed, i) => ({ speed, accel: i + 1 })),
        ),
      ),
    );
    within(line.duration, 3.4333333);
    const curve = runToEnd(fastestPart(publishedPath()));
    within(curve.duration, 3.51368);
  });

  it("takes longer the less jerk is allowed, and never less than without that limit", () => {
    const times = [1e4, 1e3, 200, 50].map((jerk) => runToEnd(fastestPart(publishedPath(jerk))).duration);
    times.reduce((before, time) => {
      assert.ok(before <= time, `${before} ${time}`);
      return time;
    }, 3.5136);
    assert.ok(times[0] < 3.5136 * 1.005, String(times[0]));
  });

  it("holds speeds alone, and jerks alone", () => {
    const even = runToEnd(fastestPart(straightPath([2, 1], [{ speed: 0.5 }, { speed: 1 }])));
    within(even.duration, 4);
    // T = 4 (d / 2J)^(1/3).
    const jerked = runToEnd(fastestPart(straightPath([2], [{ jerk: 4 }])));
    within(jerked.duration, 4 * Math.cbrt(2 / 8));
    assert.ok(jerked.lowerBound < 1e-6);
  });
});

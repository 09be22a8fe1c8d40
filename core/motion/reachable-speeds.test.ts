import assert from "node:assert/strict";
import { publishedPath, straightPath } from "../../test/support/limited-paths.ts";
import { runToEnd } from "../base/task.ts";
import type { LimitedPath } from "./limited-path.ts";
import { reachableSpeeds } from "./reachable-speeds.ts";
import { sharedNodes } from "./time-nodes.ts";

function leastTime(path: LimitedPath, stretches: number): number {
  const { times } = runToEnd(reachableSpeeds(path, sharedNodes(path.knots, stretches)));
  return times[times.length - 1];
}

describe("reachability analysis", () => {
  it("of a straight line of three axes takes 3.433333 s", () => {
    // TOPP-RA's example "plot_straight_line"; by hand: s' <= 0.3, s'' <= 3, so T = 1 / 0.3 + 0.3 / 3.
    const limits = [0.1, 0.2, 0.3].map((speed, i) => ({ speed, accel: i + 1 }));
    const time = leastTime(straightPath([0.2, 0.3, -1], limits), 1000);
    assert.ok(Math.abs(time - 3.4333333) < 1e-5, String(time));
  });

  it("of a published path of seven axes comes to the published time", () => {
    // TOPP-RA's page "plot_kinematics" prints 3.525 s; runs of it with grids of 1,000 and 5,000 points give 3.518634 and
    // 3.514668, whose error falls with the grid's step: 3.51368 without it.
    const path = publishedPath();
    for (const stretches of [400, 1000, 4000]) {
      const time = leastTime(path, stretches);
      assert.ok(Math.abs(time - 3.51368) < 0.001, `${stretches}: ${time}`);
      assert.ok(time <= 3.525);
    }
  });

  it("of one axis takes the time of the trapezium", () => {
    // T = d/V + V/A for d >= V²/A, else 2 √(d/A).
    for (const [d, V, A] of [
      [2, 0.8, 0.5],
      [0.5, 0.8, 0.5],
      [3, 1.2, 0.8],
      [10, 5, 10],
      [30, 10, 20],
    ]) {
      const exact = V * V <= d * A ? d / V + V / A : 2 * Math.sqrt(d / A);
      const time = leastTime(straightPath([d], [{ speed: V, accel: A }]), 1000);
      assert.ok(Math.abs(time - exact) < 1e-4 * exact, `${time} for ${exact}`);
    }
  });

  it("takes the time of each way where a path turns back", () => {
    // There and back again, 0 to 0.5 to 0: each way takes T(0.5) of the trapezium, 2 s.
    const path: LimitedPath = {
      limits: [{ speed: 0.8, accel: 0.5 }],
      knots: [0, 1],
      derive(u, _side, out) {
        // 32 u³ (1 - u)³ · 0.5 · 2: cubic at both ends, its top at u = 1/2.
        const w = u * (1 - u);
        out.first[0] = 96 * w * w * (1 - 2 * u);
        out.second[0] = 192 * w * ((1 - 2 * u) ** 2 - w);
        out.third[0] = 0;
      },
    };
    const time = leastTime(path, 999);
    assert.ok(Math.abs(time - 4) < 0.004, String(time));
  });

  it("is 0 where nothing is limited but jerk", () => {
    assert.ok(leastTime(straightPath([1], [{ jerk: 1 }]), 100) < 1e-9);
  });
});

import assert from "node:assert/strict";
import { moveOf, aimAt, still } from "../../test/support/moves.ts";
import { fixedPupil, optics } from "../../test/support/lenses.ts";
import { joint, rigOf } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { Trajectory } from "./trajectory.ts";

const T = 15;
/** Speed in the middle of a minimum-jerk run of 4 m in 15 s: 15/8 · 4/15 = 0.5 m/s. */
const V = 0.5;

/** A pinhole on crossing pan and tilt axes passes 3 m above a target, missing the point above it by `miss`. */
function passOver(miss: number): Trajectory {
  const rig = rigOf(
    [joint("slide", "linear", [0, 1, 0]), joint("pan", "rotary", [0, 0, 1]), joint("tilt", "rotary", [0, -1, 0])],
    { head: { pan: 1, tilt: 2 } },
  );
  const keys = [
    { time: 0, axes: { slide: -2 }, aim: aimAt(0) },
    { time: T, axes: { slide: 2 } },
  ];
  const lens = optics({ pupil: fixedPupil(0) });
  return runToEnd(planTrajectory(moveOf(rig, keys, { targets: [still("pot", [miss, 0, -3])], optics: lens })));
}

describe("a pass over the pole of the head", () => {
  it("has the peak pan speed v / b, however narrow the miss", () => {
    for (const b of [0.5, 0.1, 0.05, 0.01, 1e-3, 1e-4, 1e-5]) {
      const { low } = passOver(b).extremes(1, 1);
      assert.ok(Math.abs(-low.value / (V / b) - 1) < 1e-9, `b ${b}: ${low.value}`);
      assert.ok(Math.abs(low.t - T / 2) < 1e-6 * T);
    }
  });

  it("has the peak pan acceleration 3√3/8 v²/b² where the pass is as good as uniform", () => {
    for (const b of [0.01, 1e-3, 1e-4]) {
      const { high } = passOver(b).extremes(1, 2);
      const wanted = ((3 * Math.sqrt(3)) / 8) * (V / b) ** 2;
      // The run slows down a little within the peak; the closed form is for uniform speed.
      assert.ok(Math.abs(high.value / wanted - 1) < 2e-5, `b ${b}: ${high.value} for ${wanted}`);
    }
  });

  it("turns at v sin / (d sin θ) on the way there", () => {
    // Over a target at b the sight is θ off the pole with tan θ = r / 3; the pan rate is v b / r².
    const trajectory = passOver(0.5);
    const instant = trajectory.createInstant();
    for (const t of [4, 6, 7, 9, 12]) {
      trajectory.at(t, instant);
      const r2 = 0.25 + instant.value[0] ** 2;
      assert.ok(Math.abs(instant.speed[1] + (instant.speed[0] * 0.5) / r2) < 1e-12);
      assert.ok(Math.abs(instant.poleAngle - Math.atan2(Math.sqrt(r2), 3)) < 1e-12);
    }
  });

  it("breaks a limit of 90°/s exactly from a miss of 0.3183 m down", () => {
    const most = Math.PI / 2;
    assert.equal(passOver(0.3184).outside(1, 1, -most, most).length, 0);
    assert.equal(passOver(0.3182).outside(1, 1, -most, most).length, 1);
  });

  it("finds a limit that is broken for a thousandth of a frame only", () => {
    const trajectory = passOver(1e-5);
    const most = 0.999 * (V / 1e-5);
    const spans = trajectory.outside(1, 1, -most, most);
    assert.equal(spans.length, 1);
    assert.ok(spans[0].to - spans[0].from < 2e-6);
    assert.ok(spans[0].from < T / 2 && T / 2 < spans[0].to);
  });

  it("straight over it jumps half a turn and has no bound, the aim met before and after", () => {
    const trajectory = passOver(0);
    const { low, high } = trajectory.extremes(1, 1);
    assert.ok([low, high].some((one) => one.evidence === "unbounded" && Math.abs(one.value) === Infinity));
    assert.ok(Math.abs((low.evidence === "unbounded" ? low : high).t - T / 2) < 1e-6);
    const [before, after] = [trajectory.createInstant(), trajectory.createInstant()];
    trajectory.at(0, before);
    trajectory.at(T, after);
    assert.ok(Math.abs(Math.abs(after.value[1] - before.value[1]) - Math.PI) < 1e-9);
    assert.ok(Math.abs(after.value[2] - before.value[2]) < 1e-9);
    for (const t of [0, 5, 7.4, 7.6, 11, T]) {
      trajectory.at(t, before);
      assert.equal(before.status, "converged");
      assert.ok(Math.hypot(before.reached[0] - before.wanted[0], before.reached[1] - before.wanted[1]) < 1e-10);
    }
    assert.ok(0 < trajectory.outside(1, 1, -100, 100).length);
  });
});

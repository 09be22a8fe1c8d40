import assert from "node:assert/strict";
import { randomMove, moveOf, sliderRig } from "../../test/support/moves.ts";
import { RATES } from "../base/rate.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import { frameTimes, sampleTake } from "./sample.ts";

describe("frames of a move", () => {
  const timesOf = (duration: number, rate: keyof typeof RATES): Float64Array =>
    frameTimes({ duration, move: { ...moveOf(sliderRig(), []), rate: RATES[rate] } });

  it("are every frame from 0 on and the end, once", () => {
    assert.deepEqual(Array.from(timesOf(0.1, "25")), [0, 0.04, 0.08, 0.1]);
    assert.deepEqual(Array.from(timesOf(0.08, "25")), [0, 0.04, 0.08]);
    assert.deepEqual(Array.from(timesOf(0, "25")), [0]);
    // Frame 58 at 24000/1001 is at 2.4190833 s.
    assert.ok(Math.abs(timesOf(3, "23.976")[58] - 2.4190833) < 1e-7);
    assert.equal(timesOf(600, "25").length, 15_001);
  });
});

describe("a sampled move", () => {
  it("is the trajectory at its times, quaternions in one sign", () => {
    for (let seed = 0; seed < 10; seed++) {
      const trajectory = runToEnd(planTrajectory(randomMove(seed).move));
      const times = frameTimes(trajectory);
      const take = runToEnd(sampleTake(trajectory, times));
      const instant = trajectory.createInstant();
      const axes = trajectory.axes.length;
      assert.equal(take.count, times.length);
      assert.ok(0 <= take.rotation[3]);
      for (let i = 0; i < take.count; i++) {
        trajectory.at(times[i], instant, i === take.count - 1 ? "left" : "right");
        assert.deepEqual(take.jerk.subarray(i * axes, (i + 1) * axes), instant.jerk);
        assert.deepEqual(take.position.subarray(3 * i, 3 * i + 3), instant.position);
        assert.deepEqual(take.reached?.subarray(2 * i, 2 * i + 2), instant.reached);
        if (i === 0) continue;
        let along = 0;
        for (let k = 0; k < 4; k++) along += take.rotation[4 * i + k] * take.rotation[4 * i - 4 + k];
        assert.ok(0 < along);
      }
    }
  });

  it("takes jerk from the right, and at the end from the left", () => {
    const rig = sliderRig();
    const joints = rig.joints.map((one) => ({ ...one, limits: { speed: 1, accel: 10, jerk: 100 } }));
    const move = moveOf({ ...rig, joints }, [
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
      { time: 1, axes: { slide: 1 }, stop: true },
      { time: 2, axes: { slide: 0 } },
    ]);
    const trajectory = runToEnd(planTrajectory(move));
    const take = runToEnd(sampleTake(trajectory, frameTimes(trajectory)));
    const jerkAt = (frame: number): number => take.jerk[3 * frame];
    assert.ok(Math.abs(jerkAt(0) - 60) < 1e-9);
    assert.ok(Math.abs(jerkAt(25) + 60) < 1e-9);
    assert.ok(Math.abs(jerkAt(50) + 60) < 1e-9);
    // 15/8 of a limit of 1, and 60 of 100.
    assert.ok(Math.abs(take.share[0] - 0.6) < 1e-9);
    assert.ok(1.8 < Math.max(...take.share) && Math.max(...take.share) <= 1.875 + 1e-9);
  });
});

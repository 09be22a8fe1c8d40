import assert from "node:assert/strict";
import { aimAt, moveOf, randomMove, sliderRig, still } from "../../test/support/moves.ts";
import { optics } from "../../test/support/lenses.ts";
import { RATES } from "../base/rate.ts";
import { runToEnd } from "../base/task.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { planTrajectory } from "./plan.ts";
import { sampleTake } from "./sample.ts";
import type { Take } from "./take.ts";

const takeAt = (move: ResolvedMove, times: readonly number[]): Take => runToEnd(sampleTake(runToEnd(planTrajectory(move)), times)); // prettier-ignore

describe("motion blur in a take", () => {
  it("of a sideways dolly in the middle of a constant run is f_px v t / Z", () => {
    // 35 mm on 25.34 mm and 3840 px: f_px = 5303.8674; 0.5 m/s over 1/48 s at 3 m in front of the pupil: 18.4162 px (closed form).
    const lens = optics({ sensor: [0.02534, 0.02534 * (9 / 16)], resolution: [3840, 2160], shutter: Math.PI });
    const move = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
        { time: 2, axes: { slide: 1 }, ease: { kind: "linear", ramp: 0.2 } },
      ],
      { optics: lens, rate: RATES["24"] },
    );
    // Ways with ramps are run at 1 m over 2 s less one ramp.
    const [pupil, speed] = [takeAt(move, [1]).position, takeAt(move, [1]).speed[0]];
    const lid = still("lid", [pupil[0] + 3, pupil[1], pupil[2]]);
    const take = takeAt({ ...move, targets: [lid] }, [1]);
    assert.ok(Math.abs(take.blur![0] - (18.4162 * speed) / 0.5) < 1e-3, `${take.blur![0]} at ${speed} m/s`);
    assert.ok(Math.abs(take.blur![1]) < 1e-9);
    assert.ok(0.5 < speed, "it runs at more than the mean speed");
  });

  it("is the way of the framing in the time of the exposure, for any move: by difference quotients", () => {
    let compared = 0;
    for (let seed = 0; seed < 30; seed++) {
      const { move } = randomMove(seed);
      const trajectory = runToEnd(planTrajectory(move));
      const step = 1e-5;
      const targets = move.targets.length;
      for (const share of [0.13, 0.41, 0.77]) {
        const t = share * trajectory.duration;
        if (trajectory.knots.some((knot) => Math.abs(knot - t) < 1e-3)) continue;
        const take = runToEnd(sampleTake(trajectory, [t - step, t, t + step]));
        const exposure = ((move.optics.shutter / (2 * Math.PI)) * move.rate.den) / move.rate.num;
        for (let at = 0; at < 2 * targets; at++) {
          const rate = (take.framing[4 * targets + at] - take.framing[at]) / (2 * step);
          const wanted = rate * move.optics.resolution[at % 2] * exposure;
          const got = take.blur![2 * targets + at];
          if (Number.isNaN(wanted)) continue;
          assert.ok(Math.abs(got - wanted) < 1e-3 + 1e-5 * Math.abs(wanted), `seed ${seed}: ${got}, not ${wanted}`);
          compared += 1;
        }
      }
    }
    assert.ok(compared > 60, `${compared}`);
  });

  it("tells the f-number as it goes from key to key", () => {
    const move = moveOf(sliderRig(), [
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0 }, iris: { value: 2.8, origin: 0 } },
      { time: 2, axes: { slide: 1 }, iris: { value: 5.6, origin: 0 } },
    ]);
    const { iris } = takeAt(move, [0, 1, 2]);
    assert.ok(Math.abs(iris![0] - 2.8) < 1e-12 && Math.abs(iris![2] - 5.6) < 1e-12);
    assert.ok(2.8 < iris![1] && iris![1] < 5.6);
  });

  it("is NaN behind the camera", () => {
    const move = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
        { time: 1, axes: { slide: 1 } },
      ],
      {
        targets: [still("behind", [-3, 0, 1])],
      },
    );
    assert.ok(takeAt(move, [0.5]).blur!.every(Number.isNaN));
  });

  it("of what is held in the frame is nothing to speak of", () => {
    const move = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: 0 }, aim: aimAt(0), framing: [0.4, 0.6] },
        { time: 2, axes: { slide: 1 } },
      ],
      { targets: [still("lid", [2, 0.3, 1.2])] },
    );
    const { blur, speed } = takeAt(move, [1]);
    assert.ok(speed.some((value) => Math.abs(value) > 0.1));
    assert.ok(Math.hypot(blur![0], blur![1]) < 1e-3, `${blur}`);
  });
});

import assert from "node:assert/strict";
import { analyseFixture } from "../../test/fixtures/annotated.ts";
import { KIT } from "../../test/fixtures/kit.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "../motion/plan.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { wayBack } from "../motion/way-back.ts";
import { lastsFor, motionEnergy, motionTimes, usableEnergy, type MotionTimes } from "./energy.ts";

const WH = 3600;

const near = (actual: number, expected: number, slack = 1e-9): void =>
  assert.ok(Math.abs(actual - expected) <= slack, `${actual} is not ${expected}`);

function planned(keys: string): Trajectory {
  const text = `#- m.move.yaml
move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
keys:
${keys}`;
  const move = analyseFixture(text, KIT).get("m.move.yaml")?.move;
  assert.ok(move);
  return runToEnd(planTrajectory(move));
}

const times = (trajectory: Trajectory): MotionTimes => runToEnd(motionTimes(trajectory));

function movingTime(trajectory: Trajectory, name: string): number {
  return times(trajectory).moving[trajectory.axes.findIndex((axis) => axis.name === name)];
}

describe("energy of a battery", () => {
  // 158 Wh at 50 W last 3.16 h: worked example of globalmediapro.com, a page on camera batteries.
  it("lasts 3.16 h with 158 Wh at 50 W", () => near(lastsFor(158 * WH, 50) / 3600, 3.16));

  it("lasts 1.20 h where 80 % of 150 Wh are used at 100 W", () => {
    near(lastsFor(usableEnergy({ battery: 150 * WH, usable: 0.8 }), 100) / 3600, 1.2);
  });

  it("lasts for ever where nothing is drawn", () => assert.equal(lastsFor(1, 0), Infinity));
});

describe("times for which axes move", () => {
  // The pan follows the aim while the slide moves, and rests with it; a target that stands still is held over the hold.
  const held = `  - { at: 0 s, axes: { slide: 0, plate: 0 }, aim: { at: lid } }
  - { at: 3 s, axes: { slide: 0.2 }, hold: 2 s }
  - { at: 9 s, axes: { slide: 0.3 } }
`;

  it("are those between rests, for keyed and for solved axes", () => {
    const trajectory = planned(held);
    assert.equal(trajectory.duration, 9);
    for (const axis of ["slide", "pan", "tilt"]) near(movingTime(trajectory, axis), 7);
    assert.equal(movingTime(trajectory, "plate"), 0);
  });

  it("count an axis that only turns back: its speed is 0 for an instant alone", () => {
    const trajectory = planned(`  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, plate: 0 } }
  - { at: 2 s, axes: { slide: 0.2 } }
  - { at: 4 s, axes: { slide: 0 } }
`);
    near(movingTime(trajectory, "slide"), 4);
    assert.equal(movingTime(trajectory, "pan"), 0);
  });

  it("of the way back are those of the take, stretched by its speed", () => {
    const trajectory = planned(held);
    const way = runToEnd(wayBack(trajectory));
    assert.ok(way);
    const slide = trajectory.axes.findIndex(({ name }) => name === "slide");
    // Half the speed of the take, and the hold is left out: 2 · 7 s.
    near(times(way).moving[slide], 14, 1e-6);
  });

  it("make the energy: what rests is drawn all the time, each axis on top while it moves, a turntable not at all", () => {
    const trajectory = planned(held);
    const power = { battery: WH, usable: 1, idle: 10, axes: { slide: 30, pan: 5, plate: 100 }, origin: 0 };
    near(motionEnergy(power, trajectory.axes, times(trajectory)), 10 * 9 + 30 * 7 + 5 * 7, 1e-6);
  });

  it("of a move of a single instant are none", () => {
    const trajectory = planned(`  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0, plate: 0 } }
`);
    assert.deepEqual([...times(trajectory).moving], [0, 0, 0, 0]);
  });
});

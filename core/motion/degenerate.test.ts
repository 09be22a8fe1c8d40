import assert from "node:assert/strict";
import fc from "fast-check";
import { aimAt, moveOf, NO_AIM, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { floorRig, joint, riggedPose, rigOf } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { sampleTake } from "./sample.ts";
import type { Order, Trajectory } from "./trajectory.ts";

/** Plans, samples and asks for extremes: all that a caller does. No axis is ever without number. */
function exercise(move: ResolvedMove): Trajectory {
  const trajectory = runToEnd(planTrajectory(move));
  const times = Array.from({ length: 21 }, (_, i) => (trajectory.duration * i) / 20);
  const take = runToEnd(sampleTake(trajectory, [...times, -1, trajectory.duration + 1]));
  for (const table of [take.value, take.speed, take.accel, take.jerk, take.position, take.rotation, take.focal]) {
    assert.ok(table.every(Number.isFinite));
  }
  for (const order of [0, 1, 2, 3] as const satisfies readonly Order[]) {
    trajectory.axes.forEach((_, axis) => {
      const { low, high } = trajectory.extremes(axis, order);
      assert.ok(low.value <= high.value, `${low.value} ${high.value}`);
      trajectory.outside(axis, order, -1, 1);
    });
  }
  return trajectory;
}

const lid = still("lid", [2, 0, 1]);

describe("degenerate moves", () => {
  it("of no key, of one key, and of keys at one time stand still", () => {
    const one: KeyText = { time: 0, axes: { slide: 0.3 }, aim: aimAt(0) };
    for (const keys of [[], [one], [one, { ...one, axes: { slide: 0.5 } }]]) {
      const trajectory = exercise(moveOf(sliderRig(), keys, { targets: [lid] }));
      assert.equal(trajectory.duration, 0);
      const instant = trajectory.createInstant();
      trajectory.at(0, instant);
      assert.equal(instant.speed[0], 0);
    }
    const single = exercise(moveOf(sliderRig(), [one], { targets: [lid] }));
    const instant = single.createInstant();
    single.at(0, instant);
    assert.equal(instant.value[0], 0.3);
    assert.ok(Math.abs(instant.framing[0] - 0.5) < 1e-10);
  });

  it("with the target at the pupil, on the pan axis or run through are finite and say so", () => {
    for (const at of [
      [0.082, 0, 1.23],
      [0, 0, 1.23],
      [0.03, 0.2, 1.2],
      [0, 0, 5],
    ] as const) {
      const keys = [
        { time: 0, axes: { slide: -0.5 }, aim: aimAt(0) },
        { time: 2, axes: { slide: 0.5 } },
      ];
      exercise(moveOf(sliderRig(), keys, { targets: [still("there", at)] }));
      exercise(
        moveOf(sliderRig(), [{ time: 0, axes: { slide: 0 }, aim: aimAt(0) }], { targets: [still("there", at)] }),
      );
    }
  });

  it("that look for opposite targets in one switch are finite", () => {
    const keys = [
      { time: 0, axes: { slide: 0 }, aim: aimAt(0) },
      { time: 2, axes: { slide: 0 }, aim: aimAt(1) },
    ];
    exercise(moveOf(sliderRig(), keys, { targets: [still("front", [3, 0, 1.23]), still("back", [-3, 0, 1.23])] }));
  });

  it("of rigs without an axis to drive or to aim with say what they cannot do", () => {
    const keys: KeyText[] = [
      { time: 0, aim: aimAt(0) },
      { time: 1, aim: NO_AIM },
    ];
    exercise(moveOf(rigOf([]), keys, { targets: [lid] }));
    exercise(moveOf(rigOf([joint("plate", "fixed", [0, 0, 1])]), keys, { targets: [lid] }));
    const slide = exercise(moveOf(rigOf([joint("slide", "linear", [0, 1, 0])]), keys, { targets: [lid] }));
    assert.deepEqual(slide.unset, [0]);
  });

  it("of a rig that only pans keep the target's upright line and show what is missed", () => {
    const rig = rigOf([joint("slide", "linear", [0, 1, 0], [0, 0, 1.2]), joint("pan", "rotary", [0, 0, 1])]);
    const keys = [
      { time: 0, axes: { slide: -0.5 }, aim: aimAt(0), framing: [0.4, 0.5] as const },
      { time: 2, axes: { slide: 0.5 } },
    ];
    const trajectory = exercise(moveOf(rig, keys, { targets: [lid] }));
    const instant = trajectory.createInstant();
    for (let t = 0; t <= 2; t += 0.1) {
      trajectory.at(t, instant);
      assert.ok(Math.abs(instant.reached[0] - 0.4) < 1e-10);
      assert.ok(0.01 < Math.abs(instant.reached[1] - 0.5));
    }
  });

  it("with axes left unset name them and rest at 0 or the nearest end of their range", () => {
    const trajectory = exercise(
      moveOf(floorRig(), [
        { time: 0, axes: { dolly: 1 } },
        { time: 1, axes: { dolly: 2 } },
      ]),
    );
    const names = trajectory.unset.map((axis) => trajectory.axes[axis].name);
    assert.deepEqual(names, ["swing", "lift", "pan", "tilt"]);
  });

  it("of huge numbers and shortest times stay finite", () => {
    for (const [value, time] of [
      [1e12, 1],
      [1, 1e-8],
      [1e6, 1e6],
      [-1e300, 1],
    ]) {
      const keys = [
        { time: 0, axes: { slide: 0 }, aim: aimAt(0), zoom: { focal: 0.035, origin: 0 } },
        { time, axes: { slide: value }, framing: [3, -3] as const },
      ];
      exercise(moveOf(sliderRig(), keys, { targets: [lid] }));
    }
  });

  it("of any rig are planned without a throw", () => {
    fc.assert(
      fc.property(riggedPose, fc.boolean(), ({ rig, q }, aimed) => {
        const axes = Object.fromEntries(
          rig.joints.flatMap((one, i) => (one.role === "driven" ? [[one.name, q[i]]] : [])),
        );
        const later = Object.fromEntries(Object.entries(axes).map(([name, value]) => [name, value + 0.2]));
        const keys = [
          { time: 0, axes, ...(aimed && { aim: aimAt(0) }) },
          { time: 1, axes: later },
        ];
        exercise(moveOf(rig, keys, { targets: [still("far", [6, 1, 2])] }));
      }),
      { seed: 21, numRuns: 100 },
    );
  });
});

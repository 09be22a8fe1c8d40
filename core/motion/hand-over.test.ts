import assert from "node:assert/strict";
import { aimAt, moveOf, NO_AIM, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { floorRig } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import { rotateByQuat, type Quat } from "../base/quat.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import type { Trajectory } from "./trajectory.ts";

const TARGETS = [still("lid", [2.1, 0, 1.02]), still("spout", [2.2, 0.4, 1.0])];

function plan(rig: ResolvedMove["rig"], keys: readonly KeyText[], more: Partial<ResolvedMove> = {}): Trajectory {
  const move = moveOf(rig, keys, { targets: TARGETS, ...more });
  return runToEnd(planTrajectory({ ...move, setup: Object.fromEntries(move.axes.map((_, i) => [i, 0.8])) }));
}

const axis = (trajectory: Trajectory, name: string): number => trajectory.axes.findIndex((one) => one.name === name);

/** Value, speed and acceleration step less than rounding at every knot. */
function assertSmooth(trajectory: Trajectory): void {
  const [left, right] = [trajectory.createInstant(), trajectory.createInstant()];
  for (const knot of trajectory.knots.slice(1, -1)) {
    trajectory.at(knot, left, "left");
    trajectory.at(knot, right, "right");
    for (const table of ["value", "speed", "accel"] as const) {
      left[table].forEach((value, i) => {
        assert.ok(Math.abs(value - right[table][i]) < 1e-9, `${trajectory.axes[i].name} ${table} at ${knot}`);
      });
    }
  }
}

function assertAtRest(trajectory: Trajectory, t: number): void {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, t < trajectory.duration ? "right" : "left");
  for (const table of [instant.speed, instant.accel]) table.forEach((value) => assert.ok(Math.abs(value) < 1e-9));
}

describe("aims that begin and end within a move", () => {
  it("go over from and to keyed values without a step, and rest at both ends", () => {
    const trajectory = plan(sliderRig(), [
      { time: 0, axes: { slide: -0.5, pan: 0.3, tilt: 0.1 } },
      { time: 2, axes: { slide: 0, pan: 0.2 } },
      { time: 4, axes: { slide: 0.4 }, aim: aimAt(0) },
      { time: 6, axes: { slide: 0.1 }, aim: aimAt(1) },
      { time: 8, aim: NO_AIM },
      { time: 10, axes: { slide: 0.5, pan: -0.1 } },
    ]);
    assertSmooth(trajectory);
    assertAtRest(trajectory, 0);
    assertAtRest(trajectory, 10);
    const instant = trajectory.createInstant();
    const pan = axis(trajectory, "pan");
    trajectory.at(2, instant);
    assert.ok(Math.abs(instant.value[pan] - 0.2) < 1e-12);
    trajectory.at(10, instant);
    assert.ok(Math.abs(instant.value[pan] + 0.1) < 1e-12);
    for (const [t, aimed] of [
      [1, false],
      [4, true],
      [5, true],
      [7.9, true],
      [8.1, false],
    ] as const) {
      trajectory.at(t, instant);
      assert.equal(0 <= instant.aimFrom, aimed, `at ${t}`);
      if (aimed) assert.ok(Math.abs(instant.reached[0] - instant.wanted[0]) < 1e-10);
    }
    assert.equal(trajectory.sources[pan], "solved");
    assert.deepEqual(trajectory.unset, []);
  });

  it("come to rest by the next key when nothing is keyed after, and start from rest when nothing is before", () => {
    const trajectory = plan(sliderRig(), [
      { time: 0, axes: { slide: -0.5 } },
      { time: 2, axes: { slide: 0 }, aim: aimAt(0) },
      { time: 4, axes: { slide: 0.5 }, aim: NO_AIM },
      { time: 6, axes: { slide: 0.2 } },
      { time: 8, axes: { slide: 0.1 } },
    ]);
    assertSmooth(trajectory);
    assertAtRest(trajectory, 0);
    const instant = trajectory.createInstant();
    const pan = axis(trajectory, "pan");
    trajectory.at(7, instant);
    assert.equal(instant.speed[pan], 0);
  });

  it("hold at the last key alone when they are first stated there", () => {
    const trajectory = plan(sliderRig(), [
      { time: 0, axes: { slide: 0, pan: 0.4, tilt: 0.2 } },
      { time: 3, axes: { slide: 0.5 }, aim: aimAt(0), framing: [0.4, 0.55] },
    ]);
    const instant = trajectory.createInstant();
    trajectory.at(3, instant, "left");
    assert.ok(Math.abs(instant.framing[0] - 0.4) < 1e-10 && Math.abs(instant.framing[1] - 0.55) < 1e-10);
    assertAtRest(trajectory, 3);
  });

  it("take the way round that is nearest to where pan is keyed", () => {
    const turn = 2 * Math.PI;
    const trajectory = plan(sliderRig(), [
      { time: 0, axes: { slide: 0, pan: turn + 0.2, tilt: 0 } },
      { time: 3, axes: { slide: 0.5 }, aim: aimAt(0) },
      { time: 5, axes: { slide: 0.2 } },
    ]);
    const instant = trajectory.createInstant();
    trajectory.at(4, instant);
    assert.ok(Math.abs(instant.value[axis(trajectory, "pan")] - turn) < 0.5);
  });
});

describe("a level horizon", () => {
  const leftIsLevel = (trajectory: Trajectory, t: number): void => {
    const instant = trajectory.createInstant();
    trajectory.at(t, instant);
    const left = rotateByQuat([...instant.rotation] as unknown as Quat, [0, 1, 0]);
    const up = rotateByQuat([...instant.rotation] as unknown as Quat, [0, 0, 1]);
    assert.ok(Math.abs(left[2]) < 1e-10 && 0 < up[2], `at ${t}`);
    assert.ok(Math.abs(instant.reached[0] - instant.wanted[0]) < 1e-10);
  };
  const keys = (rolls: readonly (number | "level" | undefined)[]): KeyText[] =>
    rolls.map((roll, i) => ({
      time: 2 * i,
      axes: { dolly: 0.2 + 0.3 * i, swing: 0.1 * i, lift: 0.3 - 0.1 * i },
      framing: [0.4 + 0.05 * i, 0.5] as const,
      ...(i === 0 && { aim: aimAt(0) }),
      ...(i === 2 && { aim: aimAt(1) }),
      ...(roll !== undefined && {
        roll:
          roll === "level" ? { kind: "level" as const, origin: 0 } : { kind: "angle" as const, angle: roll, origin: 0 },
      }),
    }));
  const leaning = { base: { x: 0, y: 0, floor: 0, heading: 0.1, lean: [0.03, -0.02] as const } };

  it("is kept for a whole move on a leaning base", () => {
    const trajectory = plan(floorRig(), keys(["level", undefined, undefined, undefined]), leaning);
    for (let t = 0; t <= 6; t += 0.25) leftIsLevel(trajectory, t);
    assert.equal(trajectory.sources[axis(trajectory, "roll")], "solved");
    assertSmooth(trajectory);
  });

  it("goes over to and from angles without a step", () => {
    const trajectory = plan(floorRig(), keys([0.2, "level", "level", -0.1]), leaning);
    for (let t = 2; t <= 4; t += 0.25) leftIsLevel(trajectory, t);
    assertSmooth(trajectory);
    const instant = trajectory.createInstant();
    for (const [t, angle] of [
      [0, 0.2],
      [6, -0.1],
    ]) {
      trajectory.at(t, instant, t === 0 ? "right" : "left");
      assert.ok(Math.abs(instant.value[axis(trajectory, "roll")] - angle) < 1e-12);
      assert.ok(Math.abs(instant.reached[0] - instant.wanted[0]) < 1e-10);
    }
  });

  it("is level just at one key between angles", () => {
    const trajectory = plan(floorRig(), keys([0.2, "level", 0.1]), leaning);
    leftIsLevel(trajectory, 2);
    assertSmooth(trajectory);
  });

  it("is kept by the roll axis alone while nothing is aimed at", () => {
    const trajectory = plan(
      floorRig(),
      [
        { time: 0, axes: { dolly: 0.1, swing: 0, lift: 0, pan: 0.3, tilt: -0.2 }, roll: { kind: "level", origin: 0 } },
        { time: 3, axes: { dolly: 0.5, pan: 0.6, tilt: 0.1 } },
      ],
      leaning,
    );
    const instant = trajectory.createInstant();
    for (let t = 0; t <= 3; t += 0.25) {
      trajectory.at(t, instant);
      const left = rotateByQuat([...instant.rotation] as unknown as Quat, [0, 1, 0]);
      assert.ok(Math.abs(left[2]) < 1e-10, `at ${t}`);
    }
  });
});

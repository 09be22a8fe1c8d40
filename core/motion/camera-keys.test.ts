import assert from "node:assert/strict";
import { aimAt, moveOf, sliderRig, still } from "../../test/support/moves.ts";
import { optics } from "../../test/support/lenses.ts";
import { floorRig } from "../../test/support/rigs.ts";
import { runToEnd } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { pupilTable } from "../lens/pupil-table.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedCameraPoint, ResolvedFocus, ResolvedMove } from "./resolved-move.ts";
import type { Trajectory } from "./trajectory.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
const at = (x: number, y: number, z: number): ResolvedCameraPoint => ({ kind: "at", at: [x, y, z], origin: 0 });

function plan(move: ResolvedMove): Trajectory {
  const setup = Object.fromEntries(
    move.axes.flatMap((axis, i) => (axis.name === "column" ? [[i, 0.7]] : axis.name === "boom" ? [[i, 1.2]] : [])),
  );
  return runToEnd(planTrajectory({ ...move, setup }));
}

function pupilAt(trajectory: Trajectory, t: number): number[] {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, t < trajectory.duration ? "right" : "left");
  return Array.from(instant.position);
}

const near = (a: readonly number[], b: readonly number[], reach: number): void =>
  assert.ok(
    a.every((value, i) => Math.abs(value - b[i]) <= reach),
    `${a.join(", ")} is not ${b.join(", ")}`,
  );

describe("camera keys", () => {
  const targets = [still("lid", [2.4, 0, 1.02]), { ...still("spout", [0.11, 0, 0.1]), on: 0 }];
  const turntables = [
    { name: "plate", at: [2.4, 0, 0.9] as Vec3, along: [0, 0, 1] as Vec3, limits: {}, origins: NOWHERE },
  ];

  it("bring the pupil to their points, the aim held at every instant between", () => {
    const points: Vec3[] = [
      [1.5, -0.4, 1.1],
      [1.7, -0.1, 1.2],
      [1.8, 0.3, 1.05],
    ];
    const keys = points.map(([x, y, z], i) => ({
      time: 2 * i,
      camera: at(x, y, z),
      framing: [0.4 + 0.1 * i, 0.5] as const,
      ...(i === 0 && { aim: aimAt(0) }),
      ...(i === 2 && { aim: aimAt(1) }),
    }));
    const trajectory = plan(moveOf(floorRig(), keys, { targets, turntables }));
    assert.deepEqual(
      trajectory.keys.map((key) => key.status),
      ["converged", "converged", "converged"],
    );
    points.forEach((point, i) => near(pupilAt(trajectory, 2 * i), point, 1e-6));
    const instant = trajectory.createInstant();
    for (let t = 0; t <= 4; t += 0.1) {
      trajectory.at(t, instant);
      near(Array.from(instant.reached), Array.from(instant.wanted), 1e-10);
    }
    assert.ok(trajectory.sources.slice(0, 3).includes("solved"));
    assert.deepEqual(trajectory.unset, []);
  });

  it("count an offset from the target's place at their time, in the set or turning with a table", () => {
    const offset: Vec3 = [-0.6, 0.1, 0.15];
    const keys = [
      { time: 0, axes: { plate: 0 }, camera: { kind: "offset" as const, from: 1, offset, origin: 0 }, aim: aimAt(1) },
      { time: 3, axes: { plate: 0.5 }, camera: { kind: "offset" as const, from: 1, offset, in: 0, origin: 0 } },
    ];
    const trajectory = plan(moveOf(floorRig(), keys, { targets, turntables }));
    near(pupilAt(trajectory, 0), [2.4 + 0.11 - 0.6, 0.1, 1.15], 1e-6);
    const [c, s] = [Math.cos(0.5), Math.sin(0.5)];
    // Target and offset both turned by the table.
    const [x, y] = [0.11 + offset[0], offset[1]];
    near(pupilAt(trajectory, 3), [2.4 + c * x - s * y, s * x + c * y, 1.15], 1e-6);
  });

  it("leave the axes that they give at their values", () => {
    const keys = [
      { time: 0, camera: at(1.5, -0.4, 1.1), axes: { dolly: 0.3 }, aim: aimAt(0) },
      { time: 2, camera: at(1.6, 0, 1.1) },
    ];
    const trajectory = plan(moveOf(floorRig(), keys, { targets, turntables }));
    const instant = trajectory.createInstant();
    trajectory.at(0, instant);
    assert.ok(Math.abs(instant.value[0] - 0.3) < 1e-12);
    // Held at 0.3, swing and lift alone cannot be anywhere: what they reach is said.
    if (trajectory.keys[0].status === "converged") near(pupilAt(trajectory, 0), [1.5, -0.4, 1.1], 1e-6);
    else assert.ok(0 < trajectory.keys[0].distance!);
    near(pupilAt(trajectory, 2), [1.6, 0, 1.1], 1e-6);
  });

  it("out of reach say where the pupil can be and what stops it", () => {
    const keys = [
      { time: 0, camera: at(1.5, -0.2, 1.1), aim: aimAt(0) },
      { time: 3, camera: at(9, 0, 1.1) },
    ];
    const trajectory = plan(moveOf(floorRig(), keys, { targets, turntables }));
    const { status, nearest, distance, stoppedBy } = trajectory.keys[1];
    assert.equal(status, "out-of-reach");
    near(pupilAt(trajectory, 3), nearest!, 1e-3);
    assert.ok(Math.abs(Math.hypot(9 - nearest![0], nearest![1], 1.1 - nearest![2]) - distance!) < 1e-6);
    assert.ok(stoppedBy!.some((axis) => trajectory.axes[axis].name === "dolly"));
  });

  it("without an aim place the pupil and leave the head to its keys", () => {
    const keys = [
      { time: 0, camera: at(0.05, 0.2, 1.21), axes: { pan: 0, tilt: 0 } },
      { time: 2, camera: at(0.05, -0.3, 1.21), axes: { pan: 0, tilt: 0 } },
    ];
    const trajectory = plan(moveOf(sliderRig(), keys, { targets, turntables }));
    for (const [t, y] of [
      [0, 0.2],
      [2, -0.3],
    ]) {
      assert.ok(Math.abs(pupilAt(trajectory, t)[1] - y) < 1e-6);
    }
    // The slide runs along y only.
    assert.equal(trajectory.keys[0].status, "out-of-reach");
    assert.ok(Math.abs(trajectory.keys[0].distance! - Math.hypot(0.03 + 0.052 - 0.05, 1.23 - 1.21)) < 1e-6);
  });
});

describe("camera keys of a lens whose pupil goes with focus", () => {
  const targets = [still("lid", [2.4, 0, 1.02]), { ...still("spout", [0.11, 0, 0.1]), on: 0 }];
  const turntables = [
    { name: "plate", at: [2.4, 0, 0.9] as Vec3, along: [0, 0, 1] as Vec3, limits: {}, origins: NOWHERE },
  ];
  const lens = optics({
    pupil: pupilTable([
      { focal: 0.035, near: 0, at: 0.04 },
      { focal: 0.035, near: 1, at: 0.09 },
      { focal: 0.035, near: 2, at: 0.11 },
    ]),
  });
  const focusOn = (target: number): ResolvedFocus => ({ kind: "target", target, origin: 0 });

  it("bring the pupil to their points, focused where they aim, elsewhere or at a distance", () => {
    const points: Vec3[] = [
      [1.5, -0.4, 1.1],
      [1.7, -0.1, 1.2],
      [1.8, 0.3, 1.05],
    ];
    const focuses: ResolvedFocus[] = [focusOn(0), focusOn(1), { kind: "distance", distance: 0.6, origin: 0 }];
    const keys = points.map(([x, y, z], i) => ({
      time: 2 * i,
      camera: at(x, y, z),
      framing: [0.4 + 0.1 * i, 0.5] as const,
      focus: focuses[i],
      ...(i === 0 && { aim: aimAt(0) }),
    }));
    const trajectory = plan(moveOf(floorRig(), keys, { targets, turntables, optics: lens }));
    points.forEach((point, i) => {
      assert.deepEqual(trajectory.keys[i], { status: "converged" });
      near(pupilAt(trajectory, 2 * i), point, 1e-9);
    });
  });

  it("do so without an aim", () => {
    const keys = [
      { time: 0, camera: at(1.5, -0.4, 1.1), axes: { pan: 0.2, tilt: -0.1 }, focus: focusOn(0) },
      { time: 2, camera: at(1.7, 0.1, 1.2), axes: { pan: 0.1, tilt: -0.2 } },
    ];
    const trajectory = plan(moveOf(floorRig(), keys, { targets, turntables, optics: lens }));
    assert.deepEqual(
      trajectory.keys.map((key) => key.status),
      ["converged", "converged"],
    );
    near(pupilAt(trajectory, 0), [1.5, -0.4, 1.1], 1e-9);
    near(pupilAt(trajectory, 2), [1.7, 0.1, 1.2], 1e-9);
  });
});

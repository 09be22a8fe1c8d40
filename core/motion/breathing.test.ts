import assert from "node:assert/strict";
import { optics } from "../../test/support/lenses.ts";
import { aimAt, moveOf, still, type KeyText } from "../../test/support/moves.ts";
import { floorRig } from "../../test/support/rigs.ts";
import { rotateByQuat, type Quat } from "../base/quat.ts";
import { runToEnd } from "../base/task.ts";
import { dot, subtract, type Vec3 } from "../base/vec3.ts";
import { pupilAt } from "../lens/pupil.ts";
import { pupilTable } from "../lens/pupil-table.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedCameraPoint, ResolvedFocus, ResolvedMove } from "./resolved-move.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const LENS = optics({
  focal: { low: 0.03, high: 0.06 },
  pupil: pupilTable([
    { focal: 0.03, near: 0, at: 0.04 },
    { focal: 0.03, near: 1, at: 0.08 },
    { focal: 0.03, near: 2, at: 0.1 },
    { focal: 0.06, near: 0, at: 0.1 },
    { focal: 0.06, near: 1.5, at: 0.13 },
  ]),
  squeeze: 1.33,
  centre: [0.02, -0.03],
  distortion: { k1: -0.08, k2: 0.02, p1: 0.002, p2: -0.001, k3: 0 },
});
const targets = [
  still("lid", [2.4, 0, 1.02]),
  { ...still("spout", [0.2, 0, 0.1]), on: 0 },
  {
    ...still("stream", [2.4, 0.2, 1.1]),
    follow: [
      { time: 0, to: [2.4, 0.2, 1.1] as Vec3 },
      { time: 2, to: [2.3, 0.2, 0.9] as Vec3 },
    ],
  },
];
const origins = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
const turntables = [{ name: "plate", at: [2.4, 0, 0.9] as Vec3, along: [0, 0, 1] as Vec3, limits: {}, origins }];
const focusOn = (target: number): ResolvedFocus => ({ kind: "target", target, origin: 0 });
const at = (x: number, y: number, z: number): ResolvedCameraPoint => ({ kind: "at", at: [x, y, z], origin: 0 });

function plan(keys: readonly KeyText[]): Trajectory {
  const move: ResolvedMove = moveOf(floorRig(), keys, { targets, turntables, optics: LENS });
  const setup = Object.fromEntries(
    move.axes.flatMap((axis, i) => (axis.name === "column" ? [[i, 0.7]] : axis.name === "boom" ? [[i, 1.2]] : [])),
  );
  return runToEnd(planTrajectory({ ...move, setup }));
}

/** How far a target is along the view from the sensor plane, from what an instant shows alone. */
function focusOf(instant: Instant, target: number): number {
  const view = rotateByQuat([...instant.rotation] as unknown as Quat, [1, 0, 0]);
  const place = [...instant.targets.subarray(3 * target, 3 * target + 3)] as unknown as Vec3;
  const pupil = pupilAt(LENS, instant.focal, instant.focus);
  return dot(view, subtract(place, [...instant.position] as unknown as Vec3)) + pupil + LENS.flange;
}

describe("a lens whose pupil goes with zoom and focus", () => {
  const keys: KeyText[] = [
    { time: 0, axes: { dolly: 0.2, swing: 0.1, lift: 0.2, plate: 0 }, aim: aimAt(0), focus: focusOn(1) },
    { time: 1, focus: focusOn(2), framing: [0.3, 0.6] },
    { time: 2, axes: { dolly: 0.9, swing: -0.2, lift: 0.1, plate: 2 }, zoom: { focal: 0.03, origin: 0 } },
    {
      time: 3,
      axes: { dolly: 1, plate: 3 },
      focus: { kind: "distance", distance: 0.8, origin: 0 },
      framing: [0.6, 0.4],
    },
    { time: 4, zoom: { focal: 0.055, origin: 0 } },
  ];

  it("keeps the aim at its framing and focus on what it is on, targets that ride and pour included", () => {
    const trajectory = plan(keys);
    const instant = trajectory.createInstant();
    for (let n = 0; n <= 200; n++) {
      trajectory.at(0.02 * n, instant);
      assert.equal(instant.status, "converged");
      const off = Math.hypot(instant.framing[0] - instant.wanted[0], instant.framing[1] - instant.wanted[1]);
      assert.ok(off < 1e-9, `${instant.t}: ${off}`);
      if (instant.t === 0) assert.ok(Math.abs(instant.focus - focusOf(instant, 1)) < 1e-12);
      if (instant.t === 1) assert.ok(Math.abs(instant.focus - focusOf(instant, 2)) < 1e-12);
      if (3 <= instant.t) assert.equal(instant.focus, 0.8);
    }
  });

  it("counts as set to infinity while no key gives a focus", () => {
    const bare = plan(keys.map(({ focus: _, ...key }) => key));
    const far = plan(keys.map((key) => ({ ...key, focus: { kind: "distance", distance: 1e12, origin: 0 } })));
    const [a, b] = [bare.createInstant(), far.createInstant()];
    for (const t of [0, 1.3, 2.6, 4]) {
      bare.at(t, a);
      far.at(t, b);
      a.value.forEach((value, i) => assert.ok(Math.abs(value - b.value[i]) < 1e-9));
      assert.ok(Number.isNaN(a.focus));
    }
  });

  it("stays on a line between two camera keys", () => {
    const [a, b]: Vec3[] = [
      [1.5, -0.4, 1.1],
      [1.8, 0.3, 1.05],
    ];
    const trajectory = plan([
      { time: 0, camera: at(...a), axes: { plate: 0 }, aim: aimAt(0), focus: focusOn(0) },
      { time: 3, camera: at(...b), axes: { plate: 1 }, focus: focusOn(1), path: { kind: "line", origin: 0 } },
    ]);
    const instant = trajectory.createInstant();
    const way = subtract(b, a);
    for (let n = 0; n <= 60; n++) {
      trajectory.at(0.05 * n, instant);
      const gone = subtract([...instant.position] as unknown as Vec3, a);
      const share = dot(gone, way) / dot(way, way);
      const off = Math.hypot(...gone.map((value, axis) => value - share * way[axis]));
      assert.ok(off < 1e-9 && instant.status === "converged", `${instant.t}: ${off}`);
    }
  });
});

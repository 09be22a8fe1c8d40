import assert from "node:assert/strict";
import { aimAt, armOnTrack, moveOf, randomMove, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { optics } from "../../test/support/lenses.ts";
import { floorRig } from "../../test/support/rigs.ts";
import { invertQuat, multiplyQuats, type Quat } from "../base/quat.ts";
import { runToEnd } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { pupilAt } from "../lens/pupil.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedFocus, ResolvedMove } from "./resolved-move.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

/* Central differences over nine points: of eighth order for the first two derivatives, of sixth for the third. */
const STENCILS = [
  [1 / 280, -4 / 105, 1 / 5, -4 / 5, 0, 4 / 5, -1 / 5, 4 / 105, -1 / 280],
  [-1 / 560, 8 / 315, -1 / 5, 8 / 5, -205 / 72, 8 / 5, -1 / 5, 8 / 315, -1 / 560],
  [-7 / 240, 3 / 10, -169 / 120, 61 / 30, 0, -61 / 30, 169 / 120, -3 / 10, 7 / 240],
];
const STEP = 4e-3;

/** What poses alone say about `t`: one instant for each of the nine points, with no rate in it. */
function posesAbout(trajectory: Trajectory, t: number): Instant[] {
  return [-4, -3, -2, -1, 0, 1, 2, 3, 4].map((n) => {
    const instant = trajectory.createInstant();
    trajectory.poseAt(t + n * STEP, instant);
    return instant;
  });
}

function quotient(poses: readonly Instant[], read: (pose: Instant) => number, order: 1 | 2 | 3): number {
  const sum = poses.reduce((total, pose, i) => total + STENCILS[order - 1][i] * read(pose), 0);
  return sum / STEP ** order;
}

/** Angular velocity from quaternions: twice the vector of q' q*, signs made continuous first. */
function spinOf(poses: readonly Instant[]): number[] {
  const middle = [...poses[4].rotation] as unknown as Quat;
  const turns = poses.map(({ rotation }) => {
    const along = middle.reduce((sum, part, k) => sum + part * rotation[k], 0);
    return [...rotation].map((part) => Math.sign(along) * part) as unknown as Quat;
  });
  const rate = [0, 1, 2, 3].map(
    (k) => turns.reduce((total, turn, i) => total + STENCILS[0][i] * turn[k], 0) / STEP,
  ) as unknown as Quat;
  const back = invertQuat(middle);
  return multiplyQuats(rate, back)
    .slice(0, 3)
    .map((part) => 2 * part);
}

function near(given: number, measured: number, slack: number, what: string): void {
  assert.ok(Math.abs(given - measured) <= slack * (1 + Math.abs(measured)), `${what}: ${given}, quotient ${measured}`);
}

/** Holds all rates of `count` instants between the knots to quotients of poses; returns how many were looked at. */
function holdRates(trajectory: Trajectory, count: number, what: string): number {
  const instant = trajectory.createInstant();
  let seen = 0;
  for (let n = 0; n < count; n++) {
    const t = trajectory.duration * (((n + 0.5) * 0.618034) % 1);
    if (trajectory.knots.some((knot) => Math.abs(knot - t) <= 4.01 * STEP)) continue;
    trajectory.at(t, instant);
    if (instant.status !== "converged") continue;
    const poses = posesAbout(trajectory, t);
    assert.equal(instant.pupil, poses[4].pupil);
    for (const order of [1, 2, 3] as const) {
      const slack = [1e-7, 1e-6, 2e-5][order - 1];
      const at = `${what} order ${order} at ${t}`;
      near(
        instant.focalRates[order - 1],
        quotient(poses, ({ focal }) => focal, order),
        slack,
        `focal, ${at}`,
      );
      near(
        instant.irisRates[order - 1],
        quotient(poses, ({ iris }) => iris, order),
        slack,
        `iris, ${at}`,
      );
      if (Number.isNaN(instant.focus)) assert.ok(Number.isNaN(instant.focusRates[order - 1]));
      else
        near(
          instant.focusRates[order - 1],
          quotient(poses, ({ focus }) => focus, order),
          slack,
          `focus, ${at}`,
        );
    }
    spinOf(poses).forEach((part, axis) => near(instant.spin[axis], part, 1e-7, `${what} spin ${axis} at ${t}`));
    instant.targetVelocity.forEach((part, i) => {
      near(
        part,
        quotient(poses, ({ targets }) => targets[i], 1),
        1e-7,
        `${what} target ${i} at ${t}`,
      );
    });
    instant.velocity.forEach((part, i) => {
      near(
        part,
        quotient(poses, ({ position }) => position[i], 1),
        1e-7,
        `${what} velocity ${i} at ${t}`,
      );
    });
    seen += 1;
  }
  return seen;
}

const focusOn = (target: number): ResolvedFocus => ({ kind: "target", target, origin: 0 });
const focusAt = (distance: number): ResolvedFocus => ({ kind: "distance", distance, origin: 0 });

describe("rates of an instant", () => {
  it("agree with quotients of poses on random moves, lenses that breathe included", () => {
    let seen = 0;
    for (let seed = 0; seed < 24; seed++) {
      const { move } = randomMove(seed);
      const keys = move.keys.map((key, i) => ({
        ...key,
        focus: key.focus ?? (i % 2 === 0 ? focusOn(i % 3) : undefined),
        iris: i % 3 === 0 ? { value: 2.8 + i, origin: 0 } : undefined,
      }));
      seen += holdRates(runToEnd(planTrajectory({ ...move, keys })), 6, `seed ${seed}`);
    }
    assert.ok(60 < seen, `${seen} instants`);
  });

  it("agree on three rigs during a rack from a riding target to a pouring one and to a set distance", () => {
    const origins = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };
    const setting: Partial<ResolvedMove> = {
      turntables: [{ name: "plate", at: [2.2, 0.1, 0.9], along: [0, 0, 1], limits: {}, origins }],
      targets: [
        still("lid", [2.1, 0, 1.1]),
        { ...still("spout", [0.1, 0.1, 0.1]), on: 0 },
        {
          ...still("stream", [2.3, 0.2, 1.1]),
          follow: [0, 1, 2].map((i) => ({ time: i, to: [2.3 - 0.1 * i, 0.2, 1.1 - 0.1 * i * i] as Vec3 })),
        },
      ],
      optics: optics({ focal: { low: 0.03, high: 0.06 } }),
    };
    const keysOf = (first: Record<string, number>, last: Record<string, number>): KeyText[] => [
      { time: 0, axes: { ...first, plate: 0 }, aim: aimAt(0), focus: focusOn(1), zoom: { focal: 0.03, origin: 0 } },
      { time: 2, focus: focusOn(2), iris: { value: 4, origin: 0 } },
      { time: 3, axes: { ...last, plate: 2 }, focus: focusAt(1.2), zoom: { focal: 0.05, origin: 0 } },
    ];
    const rigs = [
      { rig: sliderRig(), keys: keysOf({ slide: -0.3 }, { slide: 0.4 }) },
      { rig: floorRig(), keys: keysOf({ dolly: 0.2, swing: 0, lift: 0.2 }, { dolly: 0.5, swing: 0.3, lift: 0.1 }) },
      {
        rig: armOnTrack(),
        keys: keysOf({ track: 0.2, q1: 0.1, q2: 0.9, q3: -1.2 }, { track: 0.5, q1: 0.2, q2: 0.8, q3: -1.1 }),
      },
    ];
    for (const [i, { rig, keys }] of rigs.entries()) {
      const move = moveOf(rig, keys, setting);
      const setup = Object.fromEntries(
        move.axes.flatMap((axis, k) => (axis.name === "column" ? [[k, 0.7]] : axis.name === "boom" ? [[k, 0.4]] : [])),
      );
      assert.ok(8 <= holdRates(runToEnd(planTrajectory({ ...move, setup })), 16, `rig ${i}`));
    }
  });

  it("tell what focus goes from and to, and how far it has come", () => {
    const keys: KeyText[] = [
      { time: 0, axes: { slide: -0.3 }, aim: aimAt(0), focus: focusOn(1) },
      { time: 1, focus: focusOn(1) },
      { time: 2, focus: focusAt(1.2) },
      { time: 3, axes: { slide: 0.4 } },
    ];
    const targets = [still("lid", [2.1, 0, 1.1]), still("spout", [2.3, 0.1, 1])];
    const trajectory = runToEnd(planTrajectory(moveOf(sliderRig(), keys, { targets })));
    const instant = trajectory.createInstant();
    const told = [0.5, 1, 1.5, 2, 2.5].map((t) => {
      trajectory.poseAt(t, instant);
      const { focusFrom, focusTo, focusBlend } = instant;
      return [focusFrom, focusTo, Number(focusBlend.toFixed(9))];
    });
    // Halfway through a rack of least jerk half of the way is done.
    assert.deepEqual(told, [
      [1, 1, 0],
      [1, -1, 0],
      [1, -1, 0.5],
      [-1, -1, 0],
      [-1, -1, 0],
    ]);
  });

  it("say where the pupil is, and leave every rate of a pose open", () => {
    const { move } = randomMove(3);
    const trajectory = runToEnd(planTrajectory(move));
    const instant = trajectory.createInstant();
    trajectory.poseAt(0.3 * trajectory.duration, instant);
    assert.ok(Math.abs(instant.pupil - pupilAt(move.optics, instant.focal, instant.focus)) < 1e-12);
    const rates = [instant.spin, instant.targetVelocity, instant.focusRates, instant.focalRates, instant.irisRates];
    for (const rate of rates) for (const part of rate) assert.ok(Number.isNaN(part));
  });
});

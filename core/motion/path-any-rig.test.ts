import assert from "node:assert/strict";
import { randomRig } from "../../bench/random-rigs.ts";
import { moveOf, type KeyText } from "../../test/support/moves.ts";
import { LINE } from "../../test/support/path-moves.ts";
import { seededRandom } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import { cross, length, subtract, type Vec3 } from "../base/vec3.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";
import { planTrajectory } from "./plan.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const SEEDS = Array.from({ length: 60 }, (_, i) => 500 + i);

/** Two keys of axis values near the middle of all ranges, a straight line between where they put the pupil. */
function lineMove(rig: ResolvedRig, seed: number): Trajectory {
  const random = seededRandom(seed);
  const driven = rig.joints.filter(({ role }) => role === "driven");
  const values = (share: number): KeyText["axes"] =>
    Object.fromEntries(
      driven.map(({ name, range }) => {
        const { low, high } = range!;
        return [name, (low + high) / 2 + share * (random() - 0.5) * (high - low)];
      }),
    );
  const keys = [
    { time: 0, axes: values(0.5) },
    { time: 3, axes: values(0.5), path: LINE },
  ];
  return runToEnd(planTrajectory(moveOf(rig, keys)));
}

const place = ({ position: [x, y, z] }: Instant): Vec3 => [x, y, z];
const count = (rig: ResolvedRig): number => rig.joints.filter(({ role }) => role === "driven").length;

describe("a straight line of any serial chain", () => {
  const planned = SEEDS.map((seed) => {
    const rig = randomRig(seed);
    const trajectory = lineMove(rig, seed);
    return { seed, rig, trajectory, followed: trajectory.paths.length === 0 };
  });

  it("of 2 to 10 driven axes is followed to 1e-9 m wherever nothing is said against it", () => {
    for (const { seed, trajectory, followed } of planned) {
      if (!followed) continue;
      const room = trajectory.createInstant();
      const at = (t: number): Vec3 => {
        trajectory.at(t, room, t < trajectory.duration ? "right" : "left");
        return place(room);
      };
      const [from, to] = [at(0), at(3)];
      for (let t = 0; t <= 3; t += 0.02) {
        const off = length(cross(subtract(at(t), from), subtract(to, from))) / length(subtract(to, from));
        assert.ok(off < 1e-9, `seed ${seed}: ${off} m off the line at ${t}`);
      }
    }
  });

  it("begins and ends with the values of its keys", () => {
    for (const { seed, trajectory, followed } of planned) {
      if (!followed) continue;
      const room = trajectory.createInstant();
      trajectory.move.keys.forEach(({ time, axes }) => {
        trajectory.at(time, room, time < 3 ? "right" : "left");
        for (const { axis, value } of axes) {
          assert.ok(Math.abs(room.value[axis] - value) < 1e-6, `seed ${seed}, axis ${axis} at ${time}`);
        }
      });
    }
  });

  it("gives numbers at every instant, followed or not", () => {
    for (const { seed, trajectory } of planned) {
      const room = trajectory.createInstant();
      for (let t = 0; t <= 3; t += 0.05) {
        trajectory.at(t, room);
        for (const table of [room.value, room.speed, room.accel, room.jerk, room.position, room.rotation]) {
          assert.ok(table.every(Number.isFinite), `seed ${seed} at ${t}`);
        }
      }
    }
  });

  it("is followed by most chains of three axes and more, and is out of reach of two turning ones", () => {
    const many = planned.filter(({ rig }) => 3 < count(rig));
    const share = many.filter(({ followed }) => followed).length / many.length;
    assert.ok(0.7 < share, `${share} of ${many.length}`);
    // Two turning axes lead the pupil on curved ways only.
    const turning = (rig: ResolvedRig): boolean =>
      rig.joints.every(({ role, type }) => role !== "driven" || type === "rotary");
    const few = planned.filter(({ rig }) => count(rig) === 2 && turning(rig));
    assert.ok(0 < few.length);
    for (const { seed, trajectory } of few) {
      assert.ok(
        trajectory.paths.some(({ kind }) => kind === "out-of-reach" || kind === "branch-change"),
        `seed ${seed}`,
      );
    }
  });
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { randomMove } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { rotateByQuat, type Quat } from "../base/quat.ts";
import { subtract, type Vec3 } from "../base/vec3.ts";
import { project } from "../lens/project.ts";
import { pupilAt } from "../lens/pupil.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward, pupilPosition } from "../rig/chain.ts";
import { planTrajectory } from "./plan.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const seeds = fc.integer({ min: 0, max: 100_000 });
const TABLES = ["value", "speed", "accel", "jerk"] as const;

function planned(seed: number): Trajectory {
  return runToEnd(planTrajectory(randomMove(seed).move));
}

/** Central difference of a table at `t`, improved by Richardson's rule. */
function difference(
  trajectory: Trajectory,
  room: Instant,
  table: (typeof TABLES)[number],
  t: number,
  h: number,
): number[] {
  const central = (step: number): number[] => {
    trajectory.at(t + step, room);
    const after = Array.from(room[table]);
    trajectory.at(t - step, room);
    return after.map((value, i) => (value - room[table][i]) / (2 * step));
  };
  const fine = central(h / 2);
  return central(h).map((coarse, i) => (4 * fine[i] - coarse) / 3);
}

describe("derivatives of a planned move", () => {
  it("agree with difference quotients at any time, for every axis", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const trajectory = planned(seed);
        const [instant, room] = [trajectory.createInstant(), trajectory.createInstant()];
        const h = 1e-3;
        for (let n = 0; n < 12; n++) {
          const t = trajectory.duration * (((n + 0.5) * 0.618034) % 1);
          if (trajectory.knots.some((knot) => Math.abs(knot - t) < 2 * h)) continue;
          trajectory.at(t, instant);
          assert.equal(instant.status, "converged");
          for (let k = 0; k < 3; k++) {
            const measured = difference(trajectory, room, TABLES[k], t, h);
            measured.forEach((value, axis) => {
              const given = instant[TABLES[k + 1]][axis];
              // The quotient's own rounding grows with the order: about 1e-16 / h each time, and with the values below.
              const allowed = 2e-6 * (1 + Math.abs(value));
              assert.ok(
                Math.abs(value - given) < allowed,
                `seed ${seed} ${trajectory.axes[axis].name} ${TABLES[k + 1]} at ${t}: ${given}, quotient ${value}`,
              );
            });
          }
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it("are continuous to the second at every knot", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const trajectory = planned(seed);
        const [left, right] = [trajectory.createInstant(), trajectory.createInstant()];
        for (const knot of trajectory.knots.slice(1, -1)) {
          trajectory.at(knot, left, "left");
          trajectory.at(knot, right, "right");
          for (const table of ["value", "speed", "accel"] as const) {
            left[table].forEach((value, axis) => {
              const step = Math.abs(value - right[table][axis]);
              assert.ok(
                step < 1e-9 * (1 + Math.abs(value)),
                `seed ${seed} ${trajectory.axes[axis].name} ${table} at ${knot}`,
              );
            });
          }
        }
      }),
      { seed: 12, numRuns: 60 },
    );
  });

  it("give the pupil's velocity", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const trajectory = planned(seed);
        const [instant, room] = [trajectory.createInstant(), trajectory.createInstant()];
        const t = trajectory.duration * 0.43;
        trajectory.at(t, instant);
        const h = 1e-5;
        trajectory.at(t + h, room);
        const after = Array.from(room.position);
        trajectory.at(t - h, room);
        after.forEach((value, i) => {
          assert.ok(Math.abs((value - room.position[i]) / (2 * h) - instant.velocity[i]) < 1e-6);
        });
      }),
      { seed: 13, numRuns: 40 },
    );
  });
});

describe("an instant of a planned move", () => {
  it("shows the aim where it is wanted, by plain kinematics and the lens", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { move } = randomMove(seed);
        const trajectory = planned(seed);
        const instant = trajectory.createInstant();
        const chain = compileRig(move.rig);
        const pose = createPoseBuffer(chain);
        const base = baseFrame(move.base);
        const pupil = new Float64Array(3);
        for (let n = 0; n <= 10; n++) {
          trajectory.at((trajectory.duration * n) / 10, instant);
          const q = new Float64Array(chain.count);
          move.axes.forEach((axis, i) => {
            if (0 <= axis.joint) q[axis.joint] = instant.value[i];
          });
          const filled = Float64Array.from(q);
          fillFollowers(chain, filled);
          filled.forEach((value, i) => assert.ok(Math.abs(value - q[i]) < 1e-12, "followers follow"));
          forward(chain, base, q, pose);
          pupilPosition(pose, pupilAt(move.optics, instant.focal, instant.focus), pupil);
          pupil.forEach((value, i) => assert.ok(Math.abs(value - instant.position[i]) < 1e-12));
          const turn = [...instant.rotation] as unknown as Quat;
          [0, 3, 6].forEach((at, i) => {
            assert.ok(Math.abs(pose.mountRotation[at] - rotateByQuat(turn, [1, 0, 0])[i]) < 1e-12);
          });
          // Blend of the lines of sight to both targets, seen through the lens.
          const unit = (target: number): Vec3 => {
            const at = [...instant.targets.subarray(3 * target, 3 * target + 3)] as unknown as Vec3;
            const sight = subtract(at, [pupil[0], pupil[1], pupil[2]]);
            const size = Math.hypot(...sight);
            return [sight[0] / size, sight[1] / size, sight[2] / size];
          };
          const [a, b] = [unit(instant.aimFrom), unit(instant.aimTo)];
          const sight = a.map((value, i) => value + instant.aimBlend * (b[i] - value));
          const m = pose.mountRotation;
          const seen = [0, 0];
          const inCamera = [0, 1, 2].map((i) => m[i] * sight[0] + m[3 + i] * sight[1] + m[6 + i] * sight[2]);
          assert.ok(project(move.optics, instant.focal, inCamera[0], inCamera[1], inCamera[2], seen));
          // Solved to 1e-10 of the picture's width.
          seen.forEach((value, i) => assert.ok(Math.abs(value - instant.wanted[i]) < 1e-10, `seed ${seed}`));
          seen.forEach((value, i) => assert.ok(Math.abs(value - instant.reached[i]) < 1e-10));
        }
      }),
      { seed: 14, numRuns: 60 },
    );
  });

  it("hangs on its time alone, not on what was asked before", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const trajectory = planned(seed);
        const again = planned(seed);
        const [first, second] = [trajectory.createInstant(), again.createInstant()];
        const times = [0.9, 0.1, 0.5, 0.37, 1, 0].map((share) => share * trajectory.duration);
        const seen = times.map((t) => {
          trajectory.at(t, first);
          return [first.value, first.jerk, first.rotation, first.framing].map((table) => Array.from(table));
        });
        [...times.keys()].reverse().forEach((i) => {
          again.extremes(0, 3);
          again.at(times[i], second);
          assert.deepEqual(
            [second.value, second.jerk, second.rotation, second.framing].map((table) => Array.from(table)),
            seen[i],
          );
        });
      }),
      { seed: 15, numRuns: 30 },
    );
  });
});

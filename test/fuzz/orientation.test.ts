import assert from "node:assert/strict";
import fc from "fast-check";
import { aimAt, moveOf, sliderRig, still, type KeyText } from "../support/moves.ts";
import { floorRig } from "../support/rigs.ts";
import { solveAnswer } from "../../cli/solve-answer.ts";
import { rotateByQuat, type Quat } from "../../core/base/quat.ts";
import { runToEnd } from "../../core/base/task.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward } from "../../core/rig/chain.ts";
import { planTrajectory } from "../../core/motion/plan.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import { sampleTake } from "../../core/motion/sample.ts";

const SAMPLES = 400;

/**
 * Checks the quaternions of a take: of length 1, each the turn that plain kinematics gives, none farther from the one
 * before than the camera has turned in between.
 */
function checkTurns(move: ResolvedMove): void {
  const trajectory = runToEnd(planTrajectory(move));
  const times = Array.from({ length: SAMPLES + 1 }, (_, i) => (trajectory.duration * i) / SAMPLES);
  const take = runToEnd(sampleTake(trajectory, times));
  const printed = solveAnswer(trajectory, take).samples;
  const chain = compileRig(move.rig);
  const pose = createPoseBuffer(chain);
  const q = new Float64Array(chain.count);
  let before: { readonly turn: readonly number[]; readonly rotation: Float64Array } | undefined;
  for (let i = 0; i <= SAMPLES; i++) {
    const turn = printed[i].camera.rotation;
    assert.deepEqual(turn, Array.from(take.rotation.subarray(4 * i, 4 * i + 4)));
    assert.ok(Math.abs(Math.hypot(...turn) - 1) < 1e-14);
    move.axes.forEach((axis, a) => {
      if (0 <= axis.joint) q[axis.joint] = take.value[i * move.axes.length + a];
    });
    fillFollowers(chain, q);
    forward(chain, baseFrame(move.base), q, pose);
    const m = pose.mountRotation;
    const units: Vec3[] = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
    units.forEach((unit, column) => {
      rotateByQuat(turn as unknown as Quat, unit).forEach((value, row) => {
        assert.ok(Math.abs(value - m[3 * row + column]) < 1e-12, `${i}: ${value} for ${m[3 * row + column]}`);
      });
    });
    if (before) {
      const trace = m.reduce((sum, value, k) => sum + value * before!.rotation[k], 0);
      const angle = Math.acos(Math.min(1, Math.max(-1, (trace - 1) / 2)));
      // |p - q| = 2 sin(angle / 4) for quaternions of one sign.
      const apart = Math.hypot(...turn.map((value, k) => value - before!.turn[k]));
      assert.ok(Math.abs(apart - 2 * Math.sin(angle / 4)) < 1e-6, `${i}: ${apart} apart for ${angle} rad`);
    } else assert.ok(0 <= turn[3]);
    before = { turn, rotation: Float64Array.from(m) };
  }
}

const angle = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });

describe("orientation along a take", () => {
  it("has no jump of sign through straight down, upside down and full turns", () => {
    const key = fc.record({ pan: angle(15), tilt: fc.oneof(angle(7), fc.constant(-Math.PI / 2)), slide: angle(0.5) });
    fc.assert(
      fc.property(fc.array(key, { minLength: 2, maxLength: 5 }), (keys) => {
        checkTurns(
          moveOf(
            sliderRig(),
            keys.map((axes, i) => ({ time: 1.5 * i, axes })),
          ),
        );
      }),
      { seed: 41, numRuns: 40 },
    );
  });

  it("has none while aiming straight down, over the pole and round a full turn", () => {
    const targets = [still("below", [0.02, 0, 0]), still("beside", [2, 0, 0.5])];
    const keys: KeyText[] = [
      { time: 0, axes: { slide: -0.5 }, aim: aimAt(0) },
      { time: 3, axes: { slide: 0.5 } },
      { time: 6, axes: { slide: 0.1 }, aim: aimAt(1) },
    ];
    checkTurns(moveOf(sliderRig(), keys, { targets }));
    const round: KeyText[] = [0, 1, 2, 3, 4].map((i) => ({
      time: 2 * i,
      axes: { dolly: 1, swing: 1.6 * i, lift: -0.2, roll: 1.5 * i },
      ...(i === 0 && { aim: aimAt(0) }),
    }));
    const around = moveOf(floorRig(), round, { targets: [still("below", [1.02, 0.01, 0.2])] });
    const setup = Object.fromEntries(
      around.axes.flatMap((axis, i) => (axis.name === "column" ? [[i, 0.7]] : axis.name === "boom" ? [[i, 1.2]] : [])),
    );
    checkTurns({ ...around, setup });
  });
});

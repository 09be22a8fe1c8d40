import assert from "node:assert/strict";
import fc from "fast-check";
import { riggedPose } from "../../test/support/rigs.ts";
import { compileRig, createPoseBuffer, fillFollowers, forward, ownFrame, pupilPosition } from "./chain.ts";
import { jacobian } from "./jacobian.ts";

const STEP = 1e-5;

describe("jacobian", () => {
  it("agrees with difference quotients of the pose on 500 random rigs, followers folded into their leaders", () => {
    fc.assert(
      fc.property(riggedPose, fc.double({ min: 0, max: 0.3, noNaN: true }), ({ rig, q }, pupil) => {
        const chain = compileRig(rig);
        const base = ownFrame();
        const at = (values: Float64Array): { point: Float64Array; turn: Float64Array } => {
          const pose = createPoseBuffer(chain);
          const point = new Float64Array(3);
          fillFollowers(chain, values);
          forward(chain, base, values, pose);
          pupilPosition(pose, pupil, point);
          return { point, turn: pose.mountRotation };
        };
        const pose = createPoseBuffer(chain);
        forward(chain, base, q, pose);
        const columns = new Float64Array(6 * chain.count);
        jacobian(chain, pose, at(Float64Array.from(q)).point, columns);
        for (let i = 0; i < chain.count; i++) {
          const [more, less] = [STEP, -STEP].map((d) => at(q.map((value, k) => (k === i ? value + d : value))));
          const bound = chain.root[i] !== i;
          const rate = [0, 1, 2].map((k) => (bound ? 0 : (more.point[k] - less.point[k]) / (2 * STEP)));
          // dR/dq · R' is the skew matrix of the angular velocity.
          const here = pose.mountRotation;
          const spin = (r: number, c: number): number =>
            [0, 1, 2].reduce(
              (sum, k) => sum + ((more.turn[3 * r + k] - less.turn[3 * r + k]) / (2 * STEP)) * here[3 * c + k],
              0,
            );
          const turning = bound ? [0, 0, 0] : [spin(2, 1), spin(0, 2), spin(1, 0)];
          [...rate, ...turning].forEach((expected, k) => {
            assert.ok(
              Math.abs(columns[6 * i + k] - expected) < 2e-7,
              `joint ${i} row ${k}: ${columns[6 * i + k]} ${expected}`,
            );
          });
        }
      }),
      { numRuns: 500, seed: 41 },
    );
  });
});

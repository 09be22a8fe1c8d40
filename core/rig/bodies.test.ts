import assert from "node:assert/strict";
import fc from "fast-check";
import { Matrix4, Quaternion, Vector3 } from "three";
import { riggedPose } from "../../test/support/rigs.ts";
import { quatFromRollPitchYaw } from "../base/quat.ts";
import { bodyPoses, linkPoints, mountPose } from "./bodies.ts";
import { baseFrame, compileRig, createPoseBuffer, forward } from "./chain.ts";
import type { Body } from "./resolved-rig.ts";

describe("bodies", () => {
  it("stand on their links, and on the base, where three's matrices put them", () => {
    fc.assert(
      fc.property(riggedPose, ({ rig, q }) => {
        const chain = compileRig(rig);
        const base = baseFrame({ x: 1, y: -2, floor: 0.1, heading: 0.7, lean: [0.02, -0.03] });
        const pose = createPoseBuffer(chain);
        forward(chain, base, q, pose);
        const own = { at: [0.1, -0.2, 0.3] as const, turn: quatFromRollPitchYaw(0.3, -0.4, 0.5) };
        const bodies = [-1, ...rig.joints.keys()].map((link): Body => ({
          name: `on ${link}`,
          link,
          pose: own,
          solid: { shape: "sphere", radius: 0.1 },
          origin: 0,
        }));
        bodyPoses(bodies, base, pose).forEach((placed, i) => {
          const link = i - 1;
          const [r, p] =
            link < 0
              ? [base.rotation, base.position]
              : [pose.rotations.subarray(9 * link), pose.positions.subarray(3 * link)];
          const frame = new Matrix4().set(
            r[0],
            r[1],
            r[2],
            p[0],
            r[3],
            r[4],
            r[5],
            p[1],
            r[6],
            r[7],
            r[8],
            p[2],
            0,
            0,
            0,
            1,
          );
          frame.multiply(
            new Matrix4().compose(new Vector3(...own.at), new Quaternion(...own.turn), new Vector3(1, 1, 1)),
          );
          const found = new Matrix4().compose(
            new Vector3(...placed.at),
            new Quaternion(...placed.turn),
            new Vector3(1, 1, 1),
          );
          frame.elements.forEach((value, k) => assert.ok(Math.abs(value - found.elements[k]) < 1e-12));
        });
        const points = linkPoints(base, pose);
        assert.equal(points.length, rig.joints.length + 2);
        assert.deepEqual(points[0], [1, -2, 0.1]);
        assert.deepEqual(points[points.length - 1], mountPose(pose).at);
      }),
      { numRuns: 200, seed: 61 },
    );
  });
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { Euler, Matrix4, Quaternion, Vector3 } from "three";
import { applyPose, composePoses, invertPose, type Pose } from "./pose.ts";
import {
  matrixFromQuat,
  multiplyQuats,
  quatAbout,
  quatFromMatrix,
  quatFromRollPitchYaw,
  rotateByQuat,
  type Quat,
} from "./quat.ts";
import { cross, dot, normalise, type Vec3 } from "./vec3.ts";

const part = (size: number): fc.Arbitrary<number> => fc.double({ min: -size, max: size, noNaN: true });
const vector = fc.tuple(part(5), part(5), part(5));
const turn: fc.Arbitrary<Quat> = fc.tuple(part(4), part(4), part(4)).map(([r, p, y]) => quatFromRollPitchYaw(r, p, y));
const pose: fc.Arbitrary<Pose> = fc.record({ at: vector, turn });

function assertNear(actual: readonly number[], expected: readonly number[], tolerance = 1e-13): void {
  actual.forEach((value, i) =>
    assert.ok(Math.abs(value - expected[i]) <= tolerance, `${actual.join()} for ${expected.join()}`),
  );
}

describe("turns", () => {
  it("roll, pitch and yaw are about fixed axes, as three has them in the order ZYX", () => {
    fc.assert(
      fc.property(part(4), part(4), part(4), vector, (r, p, y, v) => {
        const there = new Vector3(...v).applyEuler(new Euler(r, p, y, "ZYX")).toArray();
        assertNear(rotateByQuat(quatFromRollPitchYaw(r, p, y), v), there, 1e-13);
      }),
      { numRuns: 300, seed: 1 },
    );
    // By hand: yaw 90 after roll 90 takes y to z and leaves it there.
    assertNear(rotateByQuat(quatFromRollPitchYaw(Math.PI / 2, 0, Math.PI / 2), [0, 1, 0]), [0, 0, 1]);
  });

  it("multiply, rotate and become matrices as three's do", () => {
    fc.assert(
      fc.property(turn, turn, vector, (a, b, v) => {
        const both = new Quaternion(...a).multiply(new Quaternion(...b));
        assertNear(multiplyQuats(a, b), both.toArray());
        const matrix = new Float64Array(9);
        matrixFromQuat(a, matrix);
        const e = new Matrix4().makeRotationFromQuaternion(new Quaternion(...a)).elements;
        assertNear([...matrix], [e[0], e[4], e[8], e[1], e[5], e[9], e[2], e[6], e[10]]);
        assertNear(rotateByQuat(a, v), new Vector3(...v).applyQuaternion(new Quaternion(...a)).toArray());
      }),
      { numRuns: 300, seed: 2 },
    );
  });

  it("come back from a matrix exactly, half turns about any axis included", () => {
    const axes = fc.tuple(part(1), part(1), part(1)).filter((v) => 0.1 < Math.hypot(...v));
    const angles = fc.oneof(part(Math.PI), fc.constantFrom(Math.PI, Math.PI - 1e-9, -Math.PI, 0, 1e-9));
    fc.assert(
      fc.property(axes, angles, (axis, angle) => {
        const q = quatAbout(normalise(axis)!, angle);
        const matrix = new Float64Array(9);
        const again = new Float64Array(9);
        matrixFromQuat(q, matrix);
        const back = quatFromMatrix(matrix);
        matrixFromQuat(back, again);
        assertNear([...again], [...matrix], 1e-15 * 8);
        assert.ok(0 <= back[3]);
      }),
      { numRuns: 500, seed: 3 },
    );
  });
});

describe("poses", () => {
  it("compose, apply and invert", () => {
    fc.assert(
      fc.property(pose, pose, vector, (a, b, v) => {
        assertNear(applyPose(composePoses(a, b), v), applyPose(a, applyPose(b, v)), 1e-12);
        assertNear(applyPose(invertPose(a), applyPose(a, v)), v, 1e-12);
      }),
      { numRuns: 300, seed: 4 },
    );
  });
});

describe("vectors", () => {
  it("have a cross product square to both, right-handed, and no direction when zero", () => {
    fc.assert(
      fc.property(vector, vector, (a, b) => {
        const c: Vec3 = cross(a, b);
        assert.ok(Math.abs(dot(a, c)) < 1e-12 && Math.abs(dot(b, c)) < 1e-12);
      }),
      { numRuns: 100, seed: 5 },
    );
    assert.deepEqual(cross([1, 0, 0], [0, 1, 0]), [0, 0, 1]);
    assert.equal(normalise([0, 0, 0]), undefined);
    assert.equal(normalise([NaN, 0, 0]), undefined);
  });
});

import assert from "node:assert/strict";
import fc from "fast-check";
import { Matrix4, Quaternion, Vector3 } from "three";
import {
  DEG,
  joint,
  modifiedArm,
  riggedPose,
  rigOf,
  slidingArm,
  standardArm,
  type LinkRow,
} from "../../test/support/rigs.ts";
import { quatFromMatrix } from "../base/quat.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward, ownFrame, pupilPosition } from "./chain.ts";
import type { BasePlace, ResolvedRig } from "./resolved-rig.ts";

function mountOf(rig: ResolvedRig, q: readonly number[]): { rotation: number[]; position: number[] } {
  const chain = compileRig(rig);
  const pose = createPoseBuffer(chain);
  forward(chain, ownFrame(), Float64Array.from(q), pose);
  return { rotation: [...pose.mountRotation], position: [...pose.mountPosition] };
}

function assertNear(actual: readonly number[], expected: readonly number[], tolerance: number, what: string): void {
  assert.equal(actual.length, expected.length);
  const miss = Math.max(...actual.map((value, i) => Math.abs(value - expected[i])));
  assert.ok(miss <= tolerance, `${what}: off by ${miss}: ${actual.join(", ")} against ${expected.join(", ")}`);
}

// PUMA 560 in the standard convention, lengths of the Robotics Toolbox for Python (models/DH/Puma560.py), d1 = 0.
const H = Math.PI / 2;
const PUMA: readonly LinkRow[] = [
  { a: 0, alpha: H, d: 0 },
  { a: 0.4318, alpha: 0, d: 0 },
  { a: 0.0203, alpha: -H, d: 0.15005 },
  { a: 0, alpha: H, d: 0.4318 },
  { a: 0, alpha: -H, d: 0 },
  { a: 0, alpha: 0, d: 0 },
];
// The same arm in the modified convention (Craig, Introduction to Robotics).
const PUMA_MODIFIED: readonly LinkRow[] = [
  { a: 0, alpha: 0, d: 0 },
  { a: 0, alpha: -H, d: 0 },
  { a: 0.4318, alpha: 0, d: 0.15005 },
  { a: 0.0203, alpha: -H, d: 0.4318 },
  { a: 0, alpha: H, d: 0 },
  { a: 0, alpha: -H, d: 0 },
];

describe("forward kinematics", () => {
  it("agrees with the published poses of the PUMA 560, standard convention", () => {
    const arm = standardArm(PUMA);
    // Printed by the Robotics Toolbox for MATLAB, wiki "Arm-robot-examples": 0.4521 -0.15 0.4318.
    const zero = mountOf(arm, [0, 0, 0, 0, 0, 0]);
    assertNear(zero.position, [0.4521, -0.15005, 0.4318], 1e-12, "qz");
    assertNear(zero.rotation, [1, 0, 0, 0, 1, 0, 0, 0, 1], 1e-12, "qz");
    // Printed by the RVC3 README with d1 = 0.672: 0.5963 -0.1501 0.6575.
    const nominal = mountOf(arm, [0, Math.PI / 4, Math.PI, 0, Math.PI / 4, 0]);
    assertNear(nominal.position, [0.5963, -0.1501, 0.6575 - 0.672], 2e-4, "qn as printed");
    assertNear(nominal.position, [0.59630315, -0.15005, -0.01435427], 1e-8, "qn");
    assertNear(nominal.rotation, [0, 0, 1, 0, 1, 0, -1, 0, 0], 1e-12, "qn");
    // The same README's solved joint angles for that pose, four digits each.
    const solved = mountOf(arm, [7.235e-8, -0.8335, 0.09396, 3.142, 0.8312, -3.142]);
    assertNear(solved.position, nominal.position, 3e-5, "published inverse");
    assertNear(solved.rotation, nominal.rotation, 5e-4, "published inverse");
  });

  it("agrees with other published parameters of the arm", () => {
    // robotmechanicscontrol.info, chapter 3, PUMA 560 forward kinematics; centimetres there.
    const rows = PUMA.map((row, i) => ({ ...row, a: [0, 0.4318, 0.0191][i] ?? 0, d: [0, 0, 0.1254, 0.4318][i] ?? 0 }));
    const pose = mountOf(
      standardArm(rows),
      [90, 90, -180, 90, 90, -90].map((deg) => deg * DEG),
    );
    assertNear(pose.rotation, [0, 0, 1, 0, 1, 0, -1, 0, 0], 1e-12, "rows");
    assertNear(pose.position, [0.1254, 0.4318, 0.4127], 1e-12, "position");
  });

  it("agrees with Craig's closed form in the modified convention", () => {
    const q = [0.1, -0.7, 0.5, 0.3, 0.9, -0.4];
    const pose = mountOf(modifiedArm(PUMA_MODIFIED), q);
    // Figures of an independent C++ library (KDL 1.5.1) and of the closed form, equal to 4e-16.
    assertNear(pose.position, [0.41878174, 0.19282172, -0.14098656], 1e-8, "position");
    const rows = [0.7679847, 0.11536619, -0.62999218, 0.28090208, -0.94466063, 0.16944116];
    assertNear(pose.rotation, [...rows, -0.57558103, -0.30709433, -0.75789152], 1e-7, "rotation");
    const [c1, s1, c2, s2] = [Math.cos(q[0]), Math.sin(q[0]), Math.cos(q[1]), Math.sin(q[1])];
    const [c23, s23] = [Math.cos(q[1] + q[2]), Math.sin(q[1] + q[2])];
    const [a2, a3, d3, d4] = [0.4318, 0.0203, 0.15005, 0.4318];
    const flat = a2 * c2 + a3 * c23 - d4 * s23;
    const closed = [c1 * flat - d3 * s1, s1 * flat + d3 * c1, -a3 * s23 - a2 * s2 - d4 * c23];
    assertNear(pose.position, closed, 1e-14, "closed form");
  });

  it("agrees with a matrix product done elsewhere for a rig of two linear and five rotary axes", () => {
    // Product of 4 x 4 matrices by numpy 1.24; no published source.
    const rows: [number[], number[], number[]][] = [
      [
        [0, 0, 0, 0, 0, 0, 0],
        [1.87, 0, 0.98],
        [0, 0, 0, 1],
      ],
      [
        [1, 30, -20, 0.5, -25, 15, 5],
        [3.061941165, 1.10381852, 1.762252725],
        [0.117244165, -0.021951878, 0.05406402, 0.991387413],
      ],
      [
        [3.5, -120, 35, 1.2, 90, -80, -30],
        [2.37284895, -1.960151155, -0.500635382],
        [-0.108035566, -0.532297507, -0.531679535, 0.649849639],
      ],
    ];
    for (const [values, position, turn] of rows) {
      const pose = mountOf(
        slidingArm(),
        values.map((value, i) => (i === 0 || i === 3 ? value : value * DEG)),
      );
      assertNear(pose.position, position, 1e-9, "position");
      assertNear(quatFromMatrix(pose.rotation), turn, 1e-9, "turn");
    }
  });

  it("agrees with three's matrices on 600 random rigs, links, base and mount", () => {
    const place = fc.record({
      x: angle(5),
      y: angle(5),
      floor: angle(1),
      heading: angle(3),
      lean: fc.tuple(angle(1), angle(1)),
    });
    fc.assert(
      fc.property(riggedPose, place, ({ rig, q }, at) => {
        const chain = compileRig(rig);
        const pose = createPoseBuffer(chain);
        forward(chain, baseFrame(at), q, pose);
        const frame = baseMatrix(at);
        rig.joints.forEach((one, i) => {
          frame.multiply(poseMatrix(one.origin.at, one.origin.turn));
          const axis = new Vector3(...one.along);
          if (one.type === "rotary") frame.multiply(new Matrix4().makeRotationAxis(axis, q[i]));
          if (one.type === "linear") frame.multiply(new Matrix4().makeTranslation(axis.multiplyScalar(q[i])));
          assertNear(flat(frame), linkMatrix(pose.rotations, 9 * i, pose.positions, 3 * i), 2e-13, `link ${i}`);
        });
        frame.multiply(poseMatrix(rig.mount.at, rig.mount.turn));
        assertNear(flat(frame), linkMatrix(pose.mountRotation, 0, pose.mountPosition, 0), 2e-13, "mount");
        const pupil = new Float64Array(3);
        pupilPosition(pose, 0.07, pupil);
        assertNear(new Vector3(0.07, 0, 0).applyMatrix4(frame).toArray(), [...pupil], 2e-13, "pupil");
      }),
      { numRuns: 600, seed: 560 },
    );
  });

  it("agrees with plain 4 x 4 products on 600 random rigs", () => {
    fc.assert(
      fc.property(riggedPose, ({ rig, q }) => {
        const { rotation, position } = mountOf(rig, [...q]);
        let frame = rigid([0, 0, 0, 1], [0, 0, 0]);
        rig.joints.forEach((one, i) => {
          frame = product(frame, rigid(one.origin.turn, one.origin.at));
          if (one.type === "linear")
            frame = product(
              frame,
              rigid(
                [0, 0, 0, 1],
                one.along.map((part) => part * q[i]),
              ),
            );
          if (one.type === "rotary") {
            const s = Math.sin(q[i] / 2);
            frame = product(frame, rigid([...one.along.map((part) => part * s), Math.cos(q[i] / 2)], [0, 0, 0]));
          }
        });
        frame = product(frame, rigid(rig.mount.turn, rig.mount.at));
        for (let row = 0; row < 3; row++) {
          assertNear(rotation.slice(3 * row, 3 * row + 3), frame[row].slice(0, 3), 2e-13, "rotation");
          assertNear([position[row]], [frame[row][3]], 2e-13, "position");
        }
      }),
      { numRuns: 600, seed: 4 },
    );
  });

  it("fills followers of followers, whatever their order in the chain", () => {
    const rig = rigOf([
      joint("first", "rotary", [0, 0, 1], [0, 0, 0], {
        role: "follows",
        follows: { leader: 1, ratio: 2, offset: 0.5 },
      }),
      joint("second", "linear", [1, 0, 0], [0, 0, 0], {
        role: "follows",
        follows: { leader: 2, ratio: -3, offset: 1 },
      }),
      joint("third", "rotary", [0, 1, 0]),
    ]);
    const chain = compileRig(rig);
    const q = Float64Array.of(9, 9, 0.25);
    fillFollowers(chain, q);
    assert.deepEqual([...q], [2 * (-3 * 0.25 + 1) + 0.5, -3 * 0.25 + 1, 0.25]);
    assert.deepEqual(
      [[...chain.root], [...chain.rootRatio]],
      [
        [2, 2, 2],
        [-6, -3, 1],
      ],
    );
  });

  it("poses a rig without joints at its mount", () => {
    const pose = mountOf(rigOf([], { mount: { at: [1, 2, 3], turn: [0, 0, 0, 1] } }), []);
    assert.deepEqual(pose.position, [1, 2, 3]);
  });
});

function angle(size: number): fc.Arbitrary<number> {
  return fc.double({ min: -size, max: size, noNaN: true });
}

function baseMatrix(place: BasePlace): Matrix4 {
  return new Matrix4()
    .makeTranslation(place.x, place.y, place.floor)
    .multiply(new Matrix4().makeRotationZ(place.heading))
    .multiply(new Matrix4().makeRotationY(place.lean[1]))
    .multiply(new Matrix4().makeRotationX(place.lean[0]));
}

function poseMatrix(at: readonly [number, number, number], turn: readonly [number, number, number, number]): Matrix4 {
  return new Matrix4().compose(new Vector3(...at), new Quaternion(...turn), new Vector3(1, 1, 1));
}

/** First three rows, row by row. */
function flat(m: Matrix4): number[] {
  const e = m.elements;
  return [0, 1, 2].flatMap((row) => [e[row], e[row + 4], e[row + 8], e[row + 12]]);
}

function linkMatrix(r: Float64Array, i: number, p: Float64Array, k: number): number[] {
  return [0, 1, 2].flatMap((row) => [r[i + 3 * row], r[i + 3 * row + 1], r[i + 3 * row + 2], p[k + row]]);
}

/** Rotation written out from the definition of a unit quaternion as w² + (2w)[u]× + u u' + ([u]×)². */
function rigid(turn: readonly number[], at: readonly number[]): number[][] {
  const [x, y, z, w] = turn;
  const skew = [
    [0, -z, y],
    [z, 0, -x],
    [-y, x, 0],
  ];
  const square = skew.map((row) => [0, 1, 2].map((c) => row.reduce((sum, value, k) => sum + value * skew[k][c], 0)));
  const rows = [0, 1, 2].map((r) => [
    ...[0, 1, 2].map((c) => (r === c ? 1 : 0) + 2 * w * skew[r][c] + 2 * square[r][c]),
    at[r],
  ]);
  return [...rows, [0, 0, 0, 1]];
}

function product(a: readonly number[][], b: readonly number[][]): number[][] {
  return a.map((row) => [0, 1, 2, 3].map((c) => row.reduce((sum, value, k) => sum + value * b[k][c], 0)));
}

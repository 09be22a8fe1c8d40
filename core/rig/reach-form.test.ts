import assert from "node:assert/strict";
import { DEG, floorRig, joint, rigOf, slidingArm, standardArm } from "../../test/support/rigs.ts";
import { quatAbout, quatFromMatrix, quatFromRollPitchYaw } from "../base/quat.ts";
import { seededRandom } from "../base/random.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward } from "./chain.ts";
import { beginForm, findReachForm, formCandidates } from "./reach-form.ts";
import { beginReach, createReachSolver, reachDirectly } from "./reach-solver.ts";
import type { ResolvedRig } from "./resolved-rig.ts";
import { travel } from "./travel.ts";

const BASE = baseFrame({ x: -0.3, y: 0.8, floor: 0.1, heading: 1.1, lean: [0.02, -0.01] });
const H = Math.PI / 2;

/** Head of three turns about one point, oblique to each other. */
const head = [
  joint("pan", "rotary", [0, 0, 1], [0.1, 0.02, -0.1]),
  joint("tilt", "rotary", [0, Math.cos(0.3), Math.sin(0.3)], [0, 0, -0.15]),
  joint("roll", "rotary", [1, 0, 0], [0, 0, 0]),
];
const mount = { at: [0.07, 0.01, -0.02] as const, turn: quatFromRollPitchYaw(0.1, -0.2, 0.3) };

function armWith(joints: ResolvedRig["joints"]): ResolvedRig {
  return rigOf([...joints, ...head], { mount });
}

const rigs: readonly [string, ResolvedRig, string, string][] = [
  [
    "PUMA 560: a waist, then shoulder and elbow",
    standardArm([
      { a: 0, alpha: H, d: 0 },
      { a: 0.4318, alpha: 0, d: 0 },
      { a: 0.0203, alpha: -H, d: 0.15005 },
      { a: 0, alpha: H, d: 0.4318 },
      { a: 0, alpha: -H, d: 0 },
      { a: 0, alpha: 0, d: 0 },
    ]),
    "turned",
    "turns",
  ],
  ["a sliding arm: swing, then lift and boom, the dolly chosen", slidingArm(), "turned", "turn-and-slide"],
  ["a floor rig: lift with its follower, then dolly and swing", floorRig(), "still", "turn-and-slide"],
  [
    "three slides, one oblique",
    armWith([
      joint("x", "linear", [1, 0, 0]),
      joint("y", "linear", [Math.SQRT1_2, Math.SQRT1_2, 0]),
      joint("z", "linear", [0, 0, 1]),
    ]),
    "still",
    "slides",
  ],
  [
    "two turns about upright axes and a column",
    armWith([
      joint("shoulder", "rotary", [0, 0, 1], [0, 0, 0.3]),
      joint("elbow", "rotary", [0, 0, -1], [0.6, 0, 0]),
      joint("column", "linear", [0, 0, 1], [0.5, 0, 0]),
    ]),
    "still",
    "turns",
  ],
  [
    "a parallelogram: the second turn does not ride on the first",
    armWith([
      joint("track", "linear", [0, 1, 0]),
      joint("lower", "rotary", [0, 1, 0], [0, 0, 0.4]),
      joint("keeper", "rotary", [0, 1, 0], [0, 0, 0.7], {
        role: "follows",
        follows: { leader: 1, ratio: -1, offset: 0 },
      }),
      joint("upper", "rotary", [0, 1, 0], [0, 0, 0]),
      joint("reach", "fixed", [0, 0, 1], [0.6, 0, 0]),
    ]),
    "still",
    "turns",
  ],
];

describe("closed form of a chain", () => {
  for (const [name, rig, plane, pair] of rigs) {
    it(`is found for ${name}, and gives the pose that a goal was made from and no wrong one`, () => {
      const chain = compileRig(rig);
      const pose = createPoseBuffer(chain);
      const form = findReachForm(chain, travel(chain), Array.from(chain.driven), 3);
      assert.ok(form);
      assert.deepEqual([form.arm?.plane, form.arm?.pair], [plane, pair]);
      const random = seededRandom(5);
      for (let round = 0; round < 100; round++) {
        const q = Float64Array.from(rig.joints, ({ range }) =>
          range ? range.low + random() * (range.high - range.low) : 2.4 * random() - 1.2,
        );
        fillFollowers(chain, q);
        forward(chain, BASE, q, pose);
        const [x, y, z] = pose.mountPosition;
        const wanted = Float64Array.from(pose.mountRotation);
        const turn = quatFromMatrix(wanted);
        const goal = { position: [x, y, z], pupil: 0, orientation: { kind: "turn", turn } } as const;
        assert.ok(beginForm(form, BASE, goal, q));
        const found = formCandidates(form, BASE, goal, q, false);
        const answers = Array.from({ length: found }, (_, k) =>
          form.candidates.slice(k * chain.count, (k + 1) * chain.count),
        );
        assert.ok(
          answers.some((one) => chain.driven.every((axis) => Math.abs(one[axis] - q[axis]) < 1e-6)),
          `${round}`,
        );
        for (const one of answers) {
          fillFollowers(chain, one);
          forward(chain, BASE, one, pose);
          const off = [x, y, z].map((part, r) => part - pose.mountPosition[r]);
          assert.ok(Math.hypot(...off) < 1e-7, `${off.join()}`);
          assert.ok(wanted.every((part, r) => Math.abs(part - pose.mountRotation[r]) < 1e-6));
        }
      }
    });
  }

  it("counts eight ways for an arm of six turns without ranges, as such arms have", () => {
    const chain = compileRig(rigs[0][1]);
    const form = findReachForm(chain, travel(chain), Array.from(chain.driven), 3)!;
    const pose = createPoseBuffer(chain);
    forward(chain, BASE, Float64Array.of(0.3, 0.6, -0.4, 0.7, 0.8, -0.2), pose);
    const [x, y, z] = pose.mountPosition;
    const turn = quatFromMatrix(pose.mountRotation);
    const goal = { position: [x, y, z], pupil: 0, orientation: { kind: "turn", turn } } as const;
    assert.ok(beginForm(form, BASE, goal, new Float64Array(6)));
    assert.equal(formCandidates(form, BASE, goal, new Float64Array(6), false), 8);
  });

  it("is not claimed where the arm has none", () => {
    // Three turns with no two parallel: a quartic, not a pair in a plane.
    const rig = armWith([
      joint("a", "rotary", [0, 0, 1], [0, 0, 0.4]),
      joint("b", "rotary", [0.6, 0.8, 0], [0.4, 0, 0.1]),
      joint("c", "rotary", [0, 0.28, 0.96], [0.5, 0.1, 0]),
      joint("d", "fixed", [0, 0, 1], [0.4, 0, 0]),
    ]);
    const chain = compileRig(rig);
    const form = findReachForm(chain, travel(chain), Array.from(chain.driven), 3);
    assert.ok(form && form.arm === undefined);
    assert.deepEqual(form.chosen, [0, 1, 2]);
  });

  it("keeps to the ranges, whole turns off", () => {
    const joints = rigs[0][1].joints.map((one) => ({ ...one, range: { low: 10 * DEG, high: 400 * DEG } }));
    const rig = { ...rigs[0][1], joints, mount: { at: rigs[0][1].mount.at, turn: quatAbout([0, 0, 1], 0) } };
    const chain = compileRig(rig);
    const form = findReachForm(chain, travel(chain), Array.from(chain.driven), 3)!;
    const q = Float64Array.of(6.5, 0.3, 6.7, 1, 0.8, 6.9);
    const pose = createPoseBuffer(chain);
    forward(chain, BASE, q, pose);
    const [x, y, z] = pose.mountPosition;
    const turn = quatFromMatrix(pose.mountRotation);
    const goal = { position: [x, y, z], pupil: 0, orientation: { kind: "turn", turn } } as const;
    assert.ok(beginForm(form, BASE, goal, q));
    const found = formCandidates(form, BASE, goal, q, false);
    assert.ok(0 < found);
    for (let k = 0; k < found; k++) {
      const one = form.candidates.slice(6 * k, 6 * k + 6);
      assert.ok(
        one.every((value) => 10 * DEG <= value && value <= 400 * DEG),
        one.join(),
      );
    }
  });
});

describe("reachDirectly", () => {
  it("tries the second way to turn the head when the first does not lead there", () => {
    // A slide, pan and tilt: the closed form only starts the search, and one of its two ways ends at the tilt's range.
    const range = (low: number, high: number): { range: { low: number; high: number } } => ({
      range: { low: low * DEG, high: high * DEG },
    });
    const rig = rigOf(
      [
        joint("slide", "linear", [0, 1, 0], [0, 0, 2], { range: { low: -0.8, high: 0.8 } }),
        joint("pan", "rotary", [0, 0, 1], [0, 0, -0.1], range(-360, 360)),
        joint("tilt", "rotary", [0, -1, 0], [0, 0, -0.12], range(-110, 60)),
      ],
      { head: { pan: 1, tilt: 2 }, mount: { at: [0.05, 0, 0], turn: [0, 0, 0, 1] } },
    );
    const chain = compileRig(rig);
    const solver = createReachSolver(chain, [0, 1, 2]);
    const pose = createPoseBuffer(chain);
    const random = seededRandom(2);
    for (let round = 0; round < 200; round++) {
      const q = Float64Array.of(1.6 * random() - 0.8, 12 * random() - 6, 2.9 * random() - 1.9);
      forward(chain, BASE, q, pose);
      const m = pose.mountRotation;
      const [x, y, z] = pose.mountPosition;
      const target = [x + 2 * m[0], y + 2 * m[3], z + 2 * m[6]] as const;
      const orientation = { kind: "view", target, sight: [1, 0, 0], rule: { kind: "axis" } } as const;
      beginReach(solver, BASE, { position: [x, y, z], pupil: 0, orientation });
      const preferred = Float64Array.of(1.6 * random() - 0.8, 12 * random() - 6, 2.9 * random() - 1.9);
      assert.ok(reachDirectly(solver, preferred, false, new Float64Array(3)), `${q.join()} from ${preferred.join()}`);
    }
  });
});

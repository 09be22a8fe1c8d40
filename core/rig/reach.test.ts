import assert from "node:assert/strict";
import { DEG, floorRig, joint, rigOf, slidingArm, standardArm } from "../../test/support/rigs.ts";
import { quatFromMatrix } from "../base/quat.ts";
import { seededRandom, type Random } from "../base/random.ts";
import type { Vec3 } from "../base/vec3.ts";
import { aimPlan, type AimPlan } from "./aim-axes.ts";
import { solveAim } from "./aim.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward, pupilPosition, type Chain } from "./chain.ts";
import type { ReachGoal } from "./reach-equations.ts";
import { reachAxes, solveReach, type ReachResult } from "./reach.ts";
import type { ResolvedRig } from "./resolved-rig.ts";

const PUPIL = 0.052;
const BASE = baseFrame({ x: 0.4, y: -0.7, floor: 0.02, heading: 0.5, lean: [0.01, -0.015] });
const H = Math.PI / 2;

/** Ranges in degrees for turning joints and metres for others, joint by joint. */
function withRanges(rig: ResolvedRig, ranges: readonly (readonly [number, number])[]): ResolvedRig {
  const joints = rig.joints.map((one, i) => {
    const unit = one.type === "linear" ? 1 : DEG;
    return { ...one, range: { low: ranges[i][0] * unit, high: ranges[i][1] * unit } };
  });
  return { ...rig, joints };
}

// Lengths as in the Robotics Toolbox for Python, limits there after Wang and Chen 1991.
const PUMA = withRanges(
  standardArm([
    { a: 0, alpha: H, d: 0 },
    { a: 0.4318, alpha: 0, d: 0 },
    { a: 0.0203, alpha: -H, d: 0.15005 },
    { a: 0, alpha: H, d: 0.4318 },
    { a: 0, alpha: -H, d: 0 },
    { a: 0, alpha: 0, d: 0 },
  ]),
  [
    [-160, 160],
    [-45, 225],
    [-225, 45],
    [-110, 170],
    [-100, 100],
    [-266, 266],
  ],
);
const SLIDING = withRanges(slidingArm(), [
  [0, 4],
  [-170, 170],
  [-50, 60],
  [0, 1.5],
  [-180, 180],
  [-100, 100],
  [-180, 180],
]);

function pose(chain: Chain, q: Float64Array): { pupil: Vec3; rotation: Float64Array } {
  const room = createPoseBuffer(chain);
  const at = new Float64Array(3);
  fillFollowers(chain, q);
  forward(chain, BASE, q, room);
  pupilPosition(room, PUPIL, at);
  return { pupil: [at[0], at[1], at[2]], rotation: room.mountRotation };
}

function randomValues(rig: ResolvedRig, random: Random): Float64Array {
  return Float64Array.from(rig.joints, ({ range, positions }) => {
    if (positions) return positions[Math.floor(random() * positions.length)];
    return range ? range.low + random() * (range.high - range.low) : 0;
  });
}

function middles(rig: ResolvedRig): Float64Array {
  return Float64Array.from(rig.joints, ({ range }) => (range ? (range.low + range.high) / 2 : 0));
}

function assertInside(rig: ResolvedRig, q: Float64Array): void {
  rig.joints.forEach(({ range, name }, i) => {
    if (range) assert.ok(range.low - 1e-12 <= q[i] && q[i] <= range.high + 1e-12, `${name} at ${q[i]}`);
  });
}

/** A goal that is reachable, since it was made from a pose; judged by that pose's own forward kinematics. */
function goalOf(
  rig: ResolvedRig,
  chain: Chain,
  q: Float64Array,
  kind: "turn" | "view",
): { goal: ReachGoal; plan: AimPlan } {
  const { pupil, rotation: m } = pose(chain, q);
  if (kind === "turn") {
    return {
      goal: { position: pupil, pupil: PUPIL, orientation: { kind, turn: quatFromMatrix(m) } },
      plan: { axes: [], rule: { kind: "axis" } },
    };
  }
  const target: Vec3 = [pupil[0] + 2 * m[0], pupil[1] + 2 * m[3], pupil[2] + 2 * m[6]];
  const plan = aimPlan(rig, rig.head ? 0 : Math.atan2(m[7], m[8]));
  return {
    goal: { position: pupil, pupil: PUPIL, orientation: { kind, target, sight: [1, 0, 0], rule: plan.rule } },
    plan,
  };
}

describe("solveReach", () => {
  const rigs: [string, ResolvedRig][] = [
    ["PUMA 560", PUMA],
    ["seven-axis sliding arm", SLIDING],
    ["floor rig with level-keeping follower", floorRig()],
  ];
  for (const [name, rig] of rigs) {
    for (const kind of ["turn", "view"] as const) {
      for (const search of ["first", "nearest"] as const) {
        it(`finds every reachable ${kind} of a ${name}, cold, inside its ranges (${search})`, () => {
          const chain = compileRig(rig);
          const random = seededRandom(560);
          const runs = search === "first" ? 300 : 100;
          let solved = 0;
          for (let i = 0; i < runs; i++) {
            const q = randomValues(rig, random);
            if (kind === "view" && rig.head) q[rig.head.roll!] = 0;
            const { goal, plan } = goalOf(rig, chain, q, kind);
            const preferred = middles(rig);
            rig.joints.forEach((one, k) => one.role === "setup" && (preferred[k] = q[k]));
            if (kind === "view" && rig.head) preferred[rig.head.roll!] = 0;
            const answer = solveReach(chain, BASE, { goal, axes: reachAxes(rig, plan), preferred, search });
            if (answer.status !== "converged") continue;
            solved += 1;
            assertInside(rig, answer.q);
            const there = pose(chain, Float64Array.from(answer.q));
            assert.ok(Math.hypot(...there.pupil.map((value, k) => value - goal.position[k])) < 1e-8);
            const wanted = pose(chain, q).rotation;
            const turned = kind === "turn" ? [0, 1, 2, 3, 4, 5, 6, 7, 8] : [0, 3, 6];
            for (const k of turned) assert.ok(Math.abs(there.rotation[k] - wanted[k]) < 1e-8);
          }
          assert.ok(0.995 * runs <= solved, `${solved} of ${runs}`);
        }).timeout(60_000);
      }
    }
  }

  it("goes on from a neighbouring pose to the solution beside it", () => {
    const chain = compileRig(SLIDING);
    const random = seededRandom(8);
    for (let i = 0; i < 200; i++) {
      const q = randomValues(SLIDING, random);
      const { goal, plan } = goalOf(SLIDING, chain, q, "turn");
      const preferred = q.map((value, k) => {
        const { low, high } = SLIDING.joints[k].range!;
        return Math.min(high, Math.max(low, value + 0.02 * (random() - 0.5)));
      });
      const answer = solveReach(chain, BASE, { goal, axes: reachAxes(SLIDING, plan), preferred, search: "nearest" });
      assert.equal(answer.status, "converged");
      assert.ok(
        answer.q.every((value, k) => Math.abs(value - preferred[k]) < 0.2),
        `${answer.q.join()} from ${preferred.join()}`,
      );
    }
  });

  it("leaves redundant axes where they are wished, and off the ends of their travel", () => {
    // Dolly and slide go the same way: how they share it is free.
    const rig = rigOf(
      [
        joint("dolly", "linear", [1, 0, 0], [0, 0, 1], { range: { low: 0, high: 4 } }),
        joint("slide", "linear", [1, 0, 0], [0, 0, 0], { range: { low: 0, high: 1 } }),
        joint("cross", "linear", [0, 1, 0], [0, 0, 0], { range: { low: -1, high: 1 } }),
        joint("rise", "linear", [0, 0, 1], [0, 0, 0], { range: { low: -1, high: 1 } }),
        joint("pan", "rotary", [0, 0, 1]),
        joint("tilt", "rotary", [0, -1, 0]),
      ],
      { head: { pan: 4, tilt: 5 } },
    );
    const chain = compileRig(rig);
    const flat = baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] });
    const plan = aimPlan(rig, 0);
    const solve = (x: number, preferred: number[]): ReachResult =>
      solveReach(chain, flat, {
        goal: {
          position: [x, 0.2, 1.1],
          pupil: 0,
          orientation: { kind: "view", target: [x + 2, 0.2, 1.1], sight: [1, 0, 0], rule: plan.rule },
        },
        axes: reachAxes(rig, plan),
        preferred: Float64Array.from(preferred),
        search: "nearest",
      });
    // The least of (d - 2)² / 4² + (s - 0.5)² / 1² with d + s = 3.5 is at d = 2 + 16/17, s = 0.5 + 1/17.
    const shared = solve(3.5, [2, 0.5, 0, 0, 0, 0]);
    assert.equal(shared.status, "converged");
    assert.ok(
      Math.abs(shared.q[0] - (2 + 16 / 17)) < 1e-5 && Math.abs(shared.q[1] - (0.5 + 1 / 17)) < 1e-5,
      shared.q.join(),
    );
    // Wished on its end, the slide keeps 4 % of its travel free.
    const kept = solve(2, [2, 0, 0, 0, 0, 0]);
    assert.ok(0.03 < kept.q[1] && kept.q[1] < 0.05, kept.q.join());
  });

  it("says how far out of reach a point is and which axes stop it, as dense sampling finds", () => {
    const rig = rigOf(
      [
        joint("slide", "linear", [1, 0, 0], [0, 0, 1], { range: { low: 0, high: 1.2 } }),
        joint("swing", "rotary", [0, 0, 1], [0, 0, 0], { range: { low: -60 * DEG, high: 60 * DEG } }),
        joint("pan", "rotary", [0, 0, 1], [0.8, 0, 0.1]),
        joint("tilt", "rotary", [0, -1, 0], [0, 0, 0.1]),
      ],
      { head: { pan: 2, tilt: 3 }, mount: { at: [0.03, 0, 0.05], turn: [0, 0, 0, 1] } },
    );
    const chain = compileRig(rig);
    const plan = aimPlan(rig, 0);
    const target: Vec3 = [2.5, -1.5, 0.9];
    const points: Vec3[] = [
      [2.9, 0.6, 1.5],
      [-0.5, 1.2, 1.2],
      [1.2, -0.2, 1.6],
      [0.9, -2, 0.7],
    ];
    for (const position of points) {
      const answer = solveReach(chain, BASE, {
        goal: { position, pupil: PUPIL, orientation: { kind: "view", target, sight: [1, 0, 0], rule: plan.rule } },
        axes: reachAxes(rig, plan),
        preferred: Float64Array.of(0.6, 0, 0, 0),
        search: "nearest",
      });
      assert.equal(answer.status, "out-of-reach");
      assert.ok(answer.angleError < 1e-5, `looks at the target all the same: ${answer.angleError}`);
      assertInside(rig, answer.q);
      let sampled = Infinity;
      for (let i = 0; i <= 60; i++) {
        for (let k = 0; k <= 120; k++) {
          const q = Float64Array.of((1.2 * i) / 60, (-60 + k) * DEG, 0, 0);
          for (const one of solveAim(
            chain,
            BASE,
            q,
            [2, 3],
            { target, sight: [1, 0, 0], pupil: PUPIL, widths: 1, rule: plan.rule },
            [0, 0],
          )) {
            if (one.status !== "converged") continue;
            [q[2], q[3]] = one.values;
            sampled = Math.min(sampled, Math.hypot(...pose(chain, q).pupil.map((value, r) => value - position[r])));
          }
        }
      }
      assert.ok(answer.distance! <= sampled + 1e-6, `${answer.distance} against ${sampled}`);
      assert.ok(sampled <= answer.distance! + 0.02, `${answer.distance} against ${sampled}`);
      const near = pose(chain, Float64Array.from(answer.q)).pupil;
      assert.ok(Math.hypot(...near.map((value, r) => value - answer.nearest![r])) < 1e-12);
      for (const axis of answer.stoppedBy!) {
        const { low, high } = rig.joints[axis].range!;
        assert.ok(Math.min(answer.q[axis] - low, high - answer.q[axis]) < 1e-6, `${axis} is on an end`);
      }
    }
  }).timeout(60_000);

  it("names the axis on whose end it stops, a follower's too, and none where only the arm is too short", () => {
    const flat = baseFrame({ x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] });
    const slider = (more: object): ResolvedRig =>
      rigOf(
        [
          joint("slide", "linear", [1, 0, 0], [0, 0, 1], { range: { low: 0, high: 2 } }),
          joint("counter", "linear", [0, 0, -1], [0, 0, 0], {
            role: "follows",
            follows: { leader: 0, ratio: 0.5, offset: 0 },
            ...more,
          }),
          joint("pan", "rotary", [0, 0, 1]),
          joint("tilt", "rotary", [0, -1, 0]),
        ],
        { head: { pan: 2, tilt: 3 } },
      );
    const solve = (rig: ResolvedRig, position: Vec3): ReachResult =>
      solveReach(compileRig(rig), flat, {
        goal: {
          position,
          pupil: 0,
          orientation: { kind: "view", target: [1, 5, 0.5], sight: [1, 0, 0], rule: { kind: "axis" } },
        },
        axes: reachAxes(rig, aimPlan(rig, 0)),
        preferred: new Float64Array(4),
        search: "nearest",
      });
    const end = solve(slider({}), [2.8, 0, -0.4]);
    assert.equal(end.status, "out-of-reach");
    assert.deepEqual(end.stoppedBy, [0]);
    assert.ok(Math.abs(end.distance! - Math.hypot(0.8, 0.4)) < 1e-6, `${end.distance}`);
    const follower = solve(slider({ range: { low: 0, high: 0.5 } }), [2.8, 0, -0.4]);
    assert.deepEqual(follower.stoppedBy, [1]);
    assert.ok(Math.abs(follower.q[0] - 1) < 1e-9);
    // 0.3 m beside the line x, 1 - x/2 that the slide can follow.
    const beside = solve(slider({}), [1 + 0.3 / Math.sqrt(5), 0, 0.5 + 0.6 / Math.sqrt(5)]);
    assert.deepEqual(beside.stoppedBy, []);
    assert.ok(Math.abs(beside.distance! - 0.3) < 1e-6);
  });

  it("stalls, without NaN, on goals without meaning", () => {
    const rig = floorRig();
    const chain = compileRig(rig);
    const plan = aimPlan(rig, 0);
    const solve = (position: Vec3, target: Vec3, axes: number[]): ReachResult =>
      solveReach(chain, BASE, {
        goal: { position, pupil: PUPIL, orientation: { kind: "view", target, sight: [1, 0, 0], rule: plan.rule } },
        axes,
        preferred: middles(rig),
        search: "nearest",
      });
    assert.equal(solve([1, 1, 1], [1, 1, 1], reachAxes(rig, plan)).status, "stalled");
    assert.equal(solve([1, 1, 1], [2, 1, 1], []).status, "stalled");
    assert.ok(solve([1, 1, 1], [1, 1, 1], reachAxes(rig, plan)).q.every(Number.isFinite));
  });

  it("gives the same answer every time", () => {
    const chain = compileRig(PUMA);
    const { goal, plan } = goalOf(PUMA, chain, randomValues(PUMA, seededRandom(3)), "turn");
    const run = (): number[] => [
      ...solveReach(chain, BASE, { goal, axes: reachAxes(PUMA, plan), preferred: middles(PUMA), search: "nearest" }).q,
    ];
    assert.deepEqual(run(), run());
  });
});

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { randomRig } from "../../bench/random-rigs.ts";
import { isSolved, reachCases } from "../../bench/reach-cases.ts";
import { quatFromMatrix } from "../../core/base/quat.ts";
import { seededRandom, type Random } from "../../core/base/random.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import { resolveRig } from "../../core/model/resolve-rig.ts";
import { aimPlan } from "../../core/rig/aim-axes.ts";
import { solveAim } from "../../core/rig/aim.ts";
import {
  baseFrame,
  compileRig,
  createPoseBuffer,
  fillFollowers,
  forward,
  ownFrame,
  pupilPosition,
} from "../../core/rig/chain.ts";
import type { ReachGoal } from "../../core/rig/reach-equations.ts";
import { createReachSolver } from "../../core/rig/reach-solver.ts";
import { reachAxes, solveReach } from "../../core/rig/reach.ts";
import type { ResolvedRig } from "../../core/rig/resolved-rig.ts";

const KIT = fileURLToPath(new URL("../../examples/kit", import.meta.url));
const PUPIL = 0.06;
const BASE = baseFrame({ x: 0.3, y: -0.2, floor: 0, heading: 0.2, lean: [0.004, -0.007] });

function kitRig(name: string): ResolvedRig {
  const read = (file: string): string => readFileSync(file, "utf8");
  const { rig } = resolveRig(`${KIT}/${name}.rig.yaml`, { read: (file) => ({ state: "text", text: read(file) }) });
  assert.ok(rig);
  return rig;
}

function randomValues({ joints }: ResolvedRig, random: Random): Float64Array {
  return Float64Array.from(joints, ({ range, positions }) => {
    if (positions) return positions[Math.floor(random() * positions.length)];
    return range ? range.low + random() * (range.high - range.low) : 0;
  });
}

/** What the pose shows: the pupil, and the camera's rotation. */
function posed(rig: ResolvedRig, q: Float64Array): { pupil: Vec3; rotation: Float64Array } {
  const chain = compileRig(rig);
  const room = createPoseBuffer(chain);
  const at = new Float64Array(3);
  fillFollowers(chain, q);
  forward(chain, BASE, q, room);
  pupilPosition(room, PUPIL, at);
  return { pupil: [at[0], at[1], at[2]], rotation: room.mountRotation };
}

/** Preferred values of another pose, with the set-up and roll of the goal's own. */
function preferredFor(rig: ResolvedRig, q: Float64Array, random: Random): Float64Array {
  const preferred = randomValues(rig, random);
  rig.joints.forEach(({ role }, i) => role === "setup" && (preferred[i] = q[i]));
  if (rig.head?.roll !== undefined) preferred[rig.head.roll] = q[rig.head.roll];
  return preferred;
}

for (const name of ["floor", "overhead", "slider", "track-arm"]) {
  describe(`reach of the demo's ${name}`, () => {
    const rig = kitRig(name);
    const chain = compileRig(rig);

    for (const kind of ["turn", "view"] as const) {
      it(`finds 1,000 of 1,000 poses made by forward kinematics (${kind})`, () => {
        const random = seededRandom(1000);
        for (let i = 0; i < 1000; i++) {
          const q = randomValues(rig, random);
          const { pupil, rotation: m } = posed(rig, q);
          const preferred = preferredFor(rig, q, random);
          const plan = aimPlan(rig, rig.head ? (q[rig.head.roll ?? -1] ?? 0) : Math.atan2(m[7], m[8]));
          // The horizon of a leaned, headless rig is made from the pose by the rule itself.
          const target: Vec3 = [pupil[0] + 2 * m[0], pupil[1] + 2 * m[3], pupil[2] + 2 * m[6]];
          const orientation =
            kind === "turn"
              ? ({ kind, turn: quatFromMatrix(m) } as const)
              : ({ kind, target, sight: [1, 0, 0] as Vec3, rule: plan.rule } as const);
          const axes = kind === "turn" ? Array.from(chain.driven) : reachAxes(rig, plan);
          const solver = createReachSolver(chain, axes);
          const goal: ReachGoal = { position: pupil, pupil: PUPIL, orientation };
          const { status, q: answer } = solveReach(chain, BASE, { goal, axes, preferred, search: "first" }, solver);
          assert.equal(status, "converged", `pose ${i}: ${q.join()}`);
          const there = posed(rig, answer);
          assert.ok(Math.hypot(...there.pupil.map((part, r) => part - pupil[r])) < 1e-6);
          for (const r of kind === "turn" ? [0, 1, 2, 3, 4, 5, 6, 7, 8] : [0, 3, 6]) {
            assert.ok(Math.abs(there.rotation[r] - m[r]) < 1e-6);
          }
          rig.joints.forEach(({ range }, k) => {
            assert.ok(!range || (range.low - 1e-9 <= answer[k] && answer[k] <= range.high + 1e-9), rig.joints[k].name);
          });
        }
      }).timeout(120_000);
    }

    it("claims nothing out of reach that a dense sample comes within 1 mm of, or nearer to than it says", () => {
      const random = seededRandom(7);
      const target: Vec3 = [2.4, 0.1, 0.9];
      const plan = aimPlan(rig, 0);
      const axes = reachAxes(rig, plan);
      const solver = createReachSolver(chain, axes);
      const samples = sampledPupils(rig, plan.axes, axes, target, random);
      assert.ok(200 < samples.length, `${samples.length} sampled poses look at the target`);
      let claims = 0;
      for (let i = 0; i < 12; i++) {
        const from = samples[Math.floor(random() * samples.length)];
        const push = 0.1 + 0.7 * random();
        const position: Vec3 = [from[0] + push * (random() - 0.5), from[1] + push * (random() - 0.5), from[2] + push];
        const goal: ReachGoal = {
          position,
          pupil: PUPIL,
          orientation: { kind: "view", target, sight: [1, 0, 0], rule: plan.rule },
        };
        const preferred = setUp(rig);
        const answer = solveReach(chain, BASE, { goal, axes, preferred, search: "nearest" }, solver);
        const sampled = Math.min(...samples.map((at) => Math.hypot(...at.map((part, r) => part - position[r]))));
        if (answer.status === "converged") continue;
        assert.equal(answer.status, "out-of-reach");
        claims += 1;
        assert.ok(1e-3 < sampled, `a sampled pose is ${sampled} m from it`);
        assert.ok(answer.distance! <= sampled + 1e-3, `says ${answer.distance}, a sampled pose is at ${sampled}`);
        assert.ok(answer.angleError < 1e-5);
        const there = posed(rig, Float64Array.from(answer.q)).pupil;
        assert.ok(Math.hypot(...there.map((part, r) => part - answer.nearest![r])) < 1e-9);
      }
      assert.ok(4 <= claims, `${claims} claims`);
    }).timeout(120_000);
  });
}

describe("reach of random rigs", () => {
  it("finds every pose made by forward kinematics of 50 chains of 2 to 10 axes, followers among them", () => {
    for (let seed = 1; seed <= 50; seed++) {
      const rig = randomRig(seed);
      const chain = compileRig(rig);
      const axes = Array.from(chain.driven);
      const solver = createReachSolver(chain, axes);
      const failed = reachCases(chain, "cold", 40, seed).filter((one) => {
        const goal: ReachGoal = { position: one.position, pupil: 0, orientation: { kind: "turn", turn: one.turn } };
        const { q } = solveReach(chain, ownFrame(), { goal, axes, preferred: one.start, search: "first" }, solver);
        return !isSolved(chain, one, q);
      });
      assert.deepEqual(
        failed.map(({ q }) => [...q]),
        [],
        rig.name,
      );
    }
  }).timeout(120_000);
});

/** The set-up that claims are made with. */
function setUp(rig: ResolvedRig): Float64Array {
  return Float64Array.from(rig.joints, ({ role, range, positions }) =>
    role !== "setup" ? 0 : (positions?.[1] ?? (range!.low + range!.high) / 2),
  );
}

/** Pupils of poses spread over the arm whose head, solved by itself, looks at the target inside its ranges. */
function sampledPupils(
  rig: ResolvedRig,
  head: readonly number[],
  axes: readonly number[],
  target: Vec3,
  random: Random,
): Vec3[] {
  const chain = compileRig(rig);
  const q = setUp(rig);
  const view = { target, sight: [1, 0, 0] as Vec3, pupil: PUPIL, widths: 1, rule: aimPlan(rig, 0).rule };
  const pupils: Vec3[] = [];
  for (let i = 0; i < 5000; i++) {
    for (const axis of axes) {
      const { low, high } = rig.joints[axis].range!;
      if (!head.includes(axis)) q[axis] = low + random() * (high - low);
    }
    fillFollowers(chain, q);
    for (const aim of solveAim(
      chain,
      BASE,
      q,
      head,
      view,
      head.map(() => 0),
    )) {
      if (aim.status !== "converged" || 0 < aim.outside.length) continue;
      const one = Float64Array.from(q);
      head.forEach((axis, k) => (one[axis] = aim.values[k]));
      pupils.push(posed(rig, one).pupil);
    }
  }
  return pupils;
}

import assert from "node:assert/strict";
import fc from "fast-check";
import { anyOptics, fixedPupil, optics, part } from "../../test/support/lenses.ts";
import { DEG, floorRig, joint, rigOf, unitVector } from "../../test/support/rigs.ts";
import { wrapAngle } from "../base/angle.ts";
import { quatFromRollPitchYaw } from "../base/quat.ts";
import type { Vec3 } from "../base/vec3.ts";
import { project, unproject } from "../lens/project.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import { aimPlan } from "./aim-axes.ts";
import { solveAim, type AimSolution } from "./aim.ts";
import {
  baseFrame,
  compileRig,
  createPoseBuffer,
  fillFollowers,
  forward,
  pupilPosition,
  type BaseFrame,
  type Chain,
} from "./chain.ts";
import type { BasePlace, ResolvedJoint, ResolvedRig } from "./resolved-rig.ts";
import type { View } from "./view.ts";

const place: fc.Arbitrary<BasePlace> = fc.record({
  x: part(3),
  y: part(3),
  floor: part(0.2),
  heading: part(3),
  lean: fc.tuple(part(0.1), part(0.1)),
});
const framing = fc.tuple(
  fc.double({ min: 0.02, max: 0.98, noNaN: true }),
  fc.double({ min: 0.02, max: 0.98, noNaN: true }),
);

/** A target that is seen at `framing` from the pose `q`, `distance` metres from the pupil. */
function targetSeenFrom(
  chain: Chain,
  base: BaseFrame,
  q: Float64Array,
  pupil: number,
  sight: Vec3,
  distance: number,
): Vec3 {
  const pose = createPoseBuffer(chain);
  const at = new Float64Array(3);
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  pupilPosition(pose, pupil, at);
  const m = pose.mountRotation;
  const size = Math.hypot(...sight);
  const out = [0, 3, 6].map(
    (r, i) => at[i] + (distance / size) * (m[r] * sight[0] + m[r + 1] * sight[1] + m[r + 2] * sight[2]),
  );
  return [out[0], out[1], out[2]];
}

/** Framing of a point from the pose `q`, by the lens itself: what a solution is judged by. */
function framingFrom(chain: Chain, base: BaseFrame, q: Float64Array, lens: ResolvedOptics, target: Vec3): number[] {
  const pose = createPoseBuffer(chain);
  const at = new Float64Array(3);
  fillFollowers(chain, q);
  forward(chain, base, q, pose);
  pupilPosition(pose, lens.pupil.nodes[0], at);
  const m = pose.mountRotation;
  const d = target.map((value, i) => value - at[i]);
  const seen = [0, 1, 2].map((c) => m[c] * d[0] + m[c + 3] * d[1] + m[c + 6] * d[2]);
  const out = [0, 0];
  project(lens, lens.focal.low, seen[0], seen[1], seen[2], out);
  return out;
}

interface Case {
  readonly rig: ResolvedRig;
  readonly q: Float64Array;
  readonly base: BasePlace;
  readonly lens: ResolvedOptics;
  readonly framing: readonly [number, number];
  readonly distance: number;
  readonly roll: number | "level";
}

/** Sets up an aim from a known pose, solves it from wished values of 0 and returns the answers, each judged by the lens. */
function roundTrip(one: Case): { solutions: AimSolution[]; misses: number[]; same: boolean } | undefined {
  const { rig, lens } = one;
  const chain = compileRig(rig);
  const base = baseFrame(one.base);
  const focal = lens.focal.low;
  const sight: [number, number, number] = [0, 0, 0];
  if (!unproject(lens, focal, one.framing[0], one.framing[1], sight)) return undefined;
  const pupil = lens.pupil.nodes[0];
  const target = targetSeenFrom(chain, base, one.q, pupil, sight, one.distance);
  const { axes, rule } = aimPlan(rig, one.roll);
  const view: View = { target, sight, pupil, widths: focal / (lens.squeeze * lens.sensor[0]), rule };
  const given = Float64Array.from(one.q);
  for (const axis of axes) given[axis] = 7;
  const solutions = solveAim(
    chain,
    base,
    given,
    axes,
    view,
    axes.map(() => 0),
  );
  const misses = solutions.map((solution) => {
    const q = Float64Array.from(one.q);
    axes.forEach((axis, k) => (q[axis] = solution.values[k]));
    const seen = framingFrom(chain, base, q, lens, target);
    return Math.hypot(seen[0] - one.framing[0], seen[1] - one.framing[1]);
  });
  const same = solutions.some((solution) =>
    axes.every((axis, k) => Math.abs(wrapAngle(solution.values[k] - one.q[axis])) < 1e-6),
  );
  return { solutions, misses, same };
}

function assertSolved(one: Case): void {
  const result = roundTrip(one);
  if (!result) return;
  const { solutions, misses, same } = result;
  assert.equal(solutions[0].status, "converged");
  solutions.forEach((solution, i) => {
    assert.ok(solution.values.every(Number.isFinite));
    if (solution.status === "converged") assert.ok(misses[i] <= 1e-9, `framing off by ${misses[i]} of the picture`);
  });
  assert.ok(same, "the pose that the target was placed from is among the answers");
}

describe("solveAim", () => {
  it("brings the target to its framing on a leaned floor rig with any lens, 1,000 poses", () => {
    const rig = floorRig();
    fc.assert(
      fc.property(
        place,
        anyOptics,
        framing,
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.infiniteStream(part(1)),
        (base, lens, at, distance, draws) => {
          const q = Float64Array.from(rig.joints, () => draws.next().value!);
          q[6] *= 3;
          q[7] *= 1.5;
          assertSolved({ rig, q, base, lens, framing: at, distance, roll: q[8] });
        },
      ),
      { numRuns: 1000, seed: 21 },
    );
  });

  it("does so at macro distances, the target nearer to the head than the pupil is long", () => {
    const rig = floorRig();
    const lens = optics({ pupil: fixedPupil(0.17) });
    fc.assert(
      fc.property(
        framing,
        fc.double({ min: 0.08, max: 0.3, noNaN: true }),
        part(2.5),
        part(1.4),
        (at, distance, pan, tilt) => {
          const q = Float64Array.of(1, 1.2, 0.3, 0.4, 1.2, 0, pan, tilt, 0.2);
          assertSolved({
            rig,
            q,
            base: { x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] },
            lens,
            framing: at,
            distance,
            roll: 0.2,
          });
        },
      ),
      { numRuns: 500, seed: 22 },
    );
  });

  it("aims heads with oblique axes, joints between and behind them, 700 rigs", () => {
    const origin = fc.tuple(part(0.4), part(0.4), part(0.4), part(3), part(3), part(3));
    const rigs = fc.tuple(unitVector, unitVector, fc.array(origin, { minLength: 6, maxLength: 6 }));
    fc.assert(
      fc.property(
        rigs,
        place,
        anyOptics,
        framing,
        fc.double({ min: 1.5, max: 6, noNaN: true }),
        fc.infiniteStream(part(2)),
        ([pan, tilt, origins], base, lens, at, distance, draws) => {
          const posed = (k: number): Partial<ResolvedJoint> => {
            const [x, y, z, r, p, w] = origins[k];
            return { origin: { at: [x, y, z], turn: quatFromRollPitchYaw(r, p, w) } };
          };
          const joints = [
            joint("slide", "linear", [1, 0, 0], undefined, posed(0)),
            joint("pan", "rotary", pan, undefined, posed(1)),
            joint("between", "rotary", [0, 0, 1], undefined, posed(2)),
            joint("tilt", "rotary", tilt, undefined, posed(3)),
            joint("behind", "linear", [0, 1, 0], undefined, posed(4)),
          ];
          const rig = rigOf(joints, {
            head: { pan: 1, tilt: 3 },
            mount: { at: [0.04, 0, 0.05], turn: posed(5).origin!.turn },
          });
          const q = Float64Array.from(joints, () => draws.next().value!);
          const result = roundTrip({ rig, q, base, lens, framing: at, distance, roll: 0 });
          if (!result) return;
          // Where the two axes' reach ends, or the view lies along the pan axis, the branches meet and Newton slows down:
          // the original is then only one of a line of near answers.
          const best = result.solutions[0];
          assert.equal(best.status, "converged");
          assert.ok(result.misses[0] <= 1e-9);
        },
      ),
      { numRuns: 700, seed: 23 },
    );
  });

  it("keeps the horizon level with pan, tilt and roll, also on a leaned base", () => {
    const rig = floorRig();
    fc.assert(
      fc.property(place, anyOptics, framing, part(1), part(3), part(0.9), (base, lens, at, lift, pan, tilt) => {
        const q = Float64Array.of(1, 1.2, 0.3, lift, 1.2, 0, pan, tilt, 0);
        const chain = compileRig(rig);
        const frame = baseFrame(base);
        const sight: [number, number, number] = [0, 0, 0];
        if (!unproject(lens, lens.focal.low, at[0], at[1], sight)) return;
        const target = targetSeenFrom(chain, frame, q, lens.pupil.nodes[0], sight, 2);
        const { axes, rule } = aimPlan(rig, "level");
        const view: View = { target, sight, pupil: lens.pupil.nodes[0], widths: 1, rule };
        const [best] = solveAim(chain, frame, q, axes, view, [0, 0, 0]);
        assert.equal(best.status, "converged");
        const solved = Float64Array.from(q);
        axes.forEach((axis, k) => (solved[axis] = best.values[k]));
        const seen = framingFrom(chain, frame, solved, lens, target);
        assert.ok(Math.hypot(seen[0] - at[0], seen[1] - at[1]) <= 1e-9);
        const pose = createPoseBuffer(chain);
        fillFollowers(chain, solved);
        forward(chain, frame, solved, pose);
        assert.ok(Math.abs(pose.mountRotation[7]) < 1e-9, "the camera's left is level");
        assert.ok(0 < pose.mountRotation[8], "and its top up");
      }),
      { numRuns: 500, seed: 24 },
    );
  });

  it("gives pan 90 degrees and tilt 45 for a point to the left and up, by hand", () => {
    const rig = rigOf([joint("pan", "rotary", [0, 0, 1]), joint("tilt", "rotary", [0, -1, 0])], {
      head: { pan: 0, tilt: 1 },
    });
    const view: View = { target: [0, 2, 2], sight: [1, 0, 0], pupil: 0.1, widths: 1, rule: { kind: "axis" } };
    const solutions = solveAim(compileRig(rig), baseFrame(FLAT), new Float64Array(2), [0, 1], view, [0, 0]);
    assert.equal(solutions.length, 2);
    // The other branch looks back over the top: pan turned by half a turn, tilt 135.
    const degrees = solutions.map((one) => one.values.map((value) => Math.round(value / DEG)));
    assert.deepEqual(degrees, [
      [90, 45],
      [-90, 135],
    ]);
  });

  it("takes the whole turn and the branch that ranges allow, nearest to the wished values", () => {
    const range = (low: number, high: number): Partial<ResolvedJoint> => ({
      range: { low: low * DEG, high: high * DEG },
    });
    const rigWith = (pan: [number, number], tilt: [number, number]): Chain =>
      compileRig(
        rigOf(
          [
            joint("pan", "rotary", [0, 0, 1], undefined, range(...pan)),
            joint("tilt", "rotary", [0, -1, 0], undefined, range(...tilt)),
          ],
          {
            head: { pan: 0, tilt: 1 },
          },
        ),
      );
    const view: View = { target: [0, 2, 2], sight: [1, 0, 0], pupil: 0, widths: 1, rule: { kind: "axis" } };
    const best = (chain: Chain, near: number[]): AimSolution =>
      solveAim(
        chain,
        baseFrame(FLAT),
        new Float64Array(2),
        [0, 1],
        view,
        near.map((deg) => deg * DEG),
      )[0];
    const degrees = (solution: AimSolution): number[] => solution.values.map((value) => Math.round(value / DEG));
    assert.deepEqual(degrees(best(rigWith([-540, 540], [-100, 100]), [400, 0])), [450, 45]);
    assert.deepEqual(degrees(best(rigWith([-540, 540], [-100, 100]), [-300, 0])), [-270, 45]);
    assert.deepEqual(degrees(best(rigWith([-100, 80], [-150, 150]), [0, 0])), [-90, 135]);
    const outside = best(rigWith([0, 80], [-100, 100]), [0, 0]);
    assert.equal(outside.status, "converged");
    assert.deepEqual(outside.outside, [0]);
  });

  it("answers at the pole, keeping the wished pan, and says how near it is", () => {
    const rig = floorRig();
    const chain = compileRig(rig);
    const q = Float64Array.of(1, 1.2, 0, 0.4, 1.2, 0, 0, -90 * DEG, 0);
    const base = baseFrame(FLAT);
    const target = targetSeenFrom(chain, base, q, 0.05, [1, 0, 0], 1);
    const { axes } = aimPlan(rig, 0);
    const view: View = { target, sight: [1, 0, 0], pupil: 0.05, widths: 1, rule: { kind: "axis" } };
    const [best] = solveAim(chain, base, q, axes, view, [0.3, -1.4]);
    assert.equal(best.status, "converged");
    // The camera sits 20 mm above the tilt axis and so 20 mm off the pan axis when it looks straight down.
    assert.ok(best.poleAngle < 0.05, `${best.poleAngle}`);
    const onAxis = compileRig(floorRig({ mount: { at: [0, 0, 0], turn: [0, 0, 0, 1] } }));
    const below = targetSeenFrom(onAxis, base, q, 0.05, [1, 0, 0], 1);
    const [at] = solveAim(onAxis, base, q, axes, { ...view, target: below }, [0.3, -1.4]);
    assert.equal(at.status, "converged");
    assert.ok(at.poleAngle < 1e-6);
    assert.ok(
      Math.abs(at.values[0] - 0.3) < 1e-6 && Math.abs(at.values[1] + Math.PI / 2) < 1e-6,
      `${at.values.join()}`,
    );
  });

  it("says that there is no line of sight to a target at the pupil, and that a head can't look where it can't", () => {
    const rig = floorRig();
    const chain = compileRig(rig);
    const base = baseFrame(FLAT);
    const q = Float64Array.of(1, 1.2, 0, 0.4, 1.2, 0, 0, 0, 0);
    const pose = createPoseBuffer(chain);
    fillFollowers(chain, q);
    forward(chain, base, q, pose);
    const at = new Float64Array(3);
    // Where tilt and pan axes meet, inside the ball that the pupil turns on.
    const centre: Vec3 = [pose.positions[21], pose.positions[22], pose.positions[23]];
    pupilPosition(pose, 0.05, at);
    const { axes } = aimPlan(rig, 0);
    for (const target of [centre, [at[0], at[1], at[2]] as Vec3]) {
      for (const one of solveAim(
        chain,
        base,
        q,
        axes,
        { target, sight: [1, 0, 0], pupil: 0.05, widths: 1, rule: { kind: "axis" } },
        [0, 0],
      )) {
        assert.notEqual(one.status, "converged");
        assert.ok(
          one.reason && one.values.every(Number.isFinite) && !Number.isNaN(one.error) && !Number.isNaN(one.poleAngle),
        );
      }
    }
    // Pan and tilt 20 degrees apart can't look square to the pan axis.
    const slanted = compileRig(
      rigOf([joint("pan", "rotary", [0, 0, 1]), joint("tilt", "rotary", [Math.sin(0.35), 0, Math.cos(0.35)])], {
        head: { pan: 0, tilt: 1 },
        mount: { at: [0, 0, 0], turn: quatFromRollPitchYaw(0, -1.4, 0) },
      }),
    );
    const [best] = solveAim(
      slanted,
      base,
      new Float64Array(2),
      [0, 1],
      { target: [3, 0, 0], sight: [1, 0, 0], pupil: 0, widths: 1, rule: { kind: "axis" } },
      [0, 0],
    );
    assert.equal(best.status, "stalled");
    assert.equal(best.reason, "no-line-of-sight");
  });

  it("aims an arm without a head by its last three turning axes and keeps its horizon", () => {
    const arm = rigOf([
      joint("track", "linear", [0, 1, 0]),
      joint("a1", "rotary", [0, 0, 1], [0, 0, 0.4]),
      joint("a2", "rotary", [0, 1, 0], [0.1, 0, 0]),
      joint("a3", "rotary", [0, 1, 0], [0, 0, 0.6]),
      joint("a4", "rotary", [1, 0, 0], [0.3, 0, 0.05]),
      joint("a5", "rotary", [0, 1, 0], [0.3, 0, 0]),
      joint("a6", "rotary", [1, 0, 0], [0.08, 0, 0]),
    ]);
    const lens = optics({});
    fc.assert(
      fc.property(place, framing, fc.infiniteStream(part(1)), part(0.5), (base, at, draws, roll) => {
        const q = Float64Array.from(arm.joints, () => draws.next().value!);
        const chain = compileRig(arm);
        const frame = baseFrame(base);
        const sight: [number, number, number] = [0, 0, 0];
        unproject(lens, 0.035, at[0], at[1], sight);
        // Any target level enough that a horizon exists.
        const pose = createPoseBuffer(chain);
        forward(chain, frame, q, pose);
        const target: Vec3 = [
          pose.mountPosition[0] + 2,
          pose.mountPosition[1] + draws.next().value!,
          pose.mountPosition[2] + draws.next().value!,
        ];
        const { axes, rule } = aimPlan(arm, roll);
        assert.deepEqual(axes, [4, 5, 6]);
        const view: View = { target, sight, pupil: 0.052, widths: 1, rule };
        const [best] = solveAim(chain, frame, q, axes, view, [0, 0, 0]);
        assert.equal(best.status, "converged");
        axes.forEach((axis, k) => (q[axis] = best.values[k]));
        const seen = framingFrom(chain, frame, q, lens, target);
        assert.ok(Math.hypot(seen[0] - at[0], seen[1] - at[1]) <= 1e-9);
        forward(chain, frame, q, pose);
        const m = pose.mountRotation;
        // Rolled right-hand about the view by `roll` from level: the camera's left rises.
        const view0 = Math.atan2(m[7], m[8]);
        assert.ok(Math.abs(wrapAngle(view0 - roll)) < 1e-9, `${view0} for ${roll}`);
      }),
      { numRuns: 300, seed: 25 },
    );
  });
});

const FLAT: BasePlace = { x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] };

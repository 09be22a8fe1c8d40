import assert from "node:assert/strict";
import { randomRig } from "../../bench/random-rigs.ts";
import { quatFromMatrix } from "../../core/base/quat.ts";
import { seededRandom, type Random } from "../../core/base/random.ts";
import type { Vec3 } from "../../core/base/vec3.ts";
import {
  baseFrame,
  compileRig,
  createPoseBuffer,
  fillFollowers,
  forward,
  pupilPosition,
  type Chain,
} from "../../core/rig/chain.ts";
import type { ReachGoal } from "../../core/rig/reach-equations.ts";
import { solveReach, type ReachResult } from "../../core/rig/reach.ts";
import { travel } from "../../core/rig/travel.ts";

const PUPIL = 0.052;
const BASE = baseFrame({ x: 0.4, y: -0.7, floor: 0.02, heading: 0.5, lean: [0.01, -0.015] });
/** A pose this near to a place that is called unreachable makes the claim false [m]. */
const CLAIM = 1e-3;

interface Sampled {
  readonly q: Float64Array;
  readonly at: Vec3;
}

/** Random rigs with 2 to 10 driven axes, and poses of each that keep every range, followers' own included. */
class Workspace {
  readonly chain: Chain;
  readonly axes: number[];
  private readonly limits;
  private readonly room;
  private readonly at = new Float64Array(3);

  constructor(seed: number) {
    this.chain = compileRig(randomRig(seed));
    this.axes = Array.from(this.chain.driven);
    this.limits = travel(this.chain);
    this.room = createPoseBuffer(this.chain);
  }

  posed(q: Float64Array): Sampled & { readonly rotation: Float64Array } {
    fillFollowers(this.chain, q);
    forward(this.chain, BASE, q, this.room);
    pupilPosition(this.room, PUPIL, this.at);
    return { q, at: [this.at[0], this.at[1], this.at[2]], rotation: this.room.mountRotation };
  }

  /** All axes anywhere in their travel, or near a pose by a share of it. */
  sample(random: Random, near?: Float64Array, share = 1): Sampled {
    const { low, high } = this.limits;
    const q = new Float64Array(this.chain.count);
    for (const axis of this.axes) {
      const span = high[axis] - low[axis];
      const wished = near ? near[axis] + (random() - 0.5) * share * span : low[axis] + random() * span;
      q[axis] = Math.min(Math.max(wished, low[axis]), high[axis]);
    }
    return this.posed(q);
  }

  /** How near sampling comes to a place: all over the workspace, then ever closer round the nearest poses. */
  nearest(random: Random, all: readonly Sampled[], place: Vec3): number {
    const far = (one: Sampled): number => Math.hypot(...one.at.map((value, r) => value - place[r]));
    let kept = [...all].sort((a, b) => far(a) - far(b)).slice(0, 4);
    for (let share = 0.2; 1e-4 < share; share /= 2) {
      const round = kept.flatMap((one) => Array.from({ length: 20 }, () => this.sample(random, one.q, share)));
      kept = [...kept, ...round].sort((a, b) => far(a) - far(b)).slice(0, 4);
    }
    return far(kept[0]);
  }

  solve(goal: ReachGoal): ReachResult {
    const { low, high } = this.limits;
    const preferred = Float64Array.from(low, (value, i) => (value + high[i]) / 2 || 0);
    return solveReach(this.chain, BASE, { goal, axes: this.axes, preferred, search: "nearest" });
  }
}

function somewhere(random: Random, size: number): Vec3 {
  return [(random() - 0.5) * size, (random() - 0.5) * size, (random() - 0.5) * size];
}

describe("what is called unreachable on random rigs of 2 to 10 axes", () => {
  it("is: no pose of a dense sampling comes near a place alone, and none nearer than the nearest place", () => {
    let refused = 0;
    for (let seed = 1; seed <= 24; seed++) {
      const rig = new Workspace(seed);
      const random = seededRandom(seed);
      const all = Array.from({ length: 2500 }, () => rig.sample(random));
      for (let n = 0; n < 4; n++) {
        const from = all[Math.floor(random() * all.length)].at;
        const place = from.map((value, r) => value + somewhere(random, n)[r]) as unknown as Vec3;
        const answer = rig.solve({ position: place, pupil: PUPIL, orientation: { kind: "free" } });
        const name = `rig ${seed}, place ${n}`;
        if (n === 0) assert.equal(answer.status, "converged", `${name} was made from a pose`);
        const there = rig.posed(Float64Array.from(answer.q)).at;
        const off = Math.hypot(...there.map((value, r) => value - place[r]));
        if (answer.status === "converged") {
          assert.ok(off < 1e-8, name);
          continue;
        }
        refused += 1;
        assert.equal(answer.status, "out-of-reach", name);
        const sampled = rig.nearest(random, all, place);
        assert.ok(CLAIM < sampled, `${name}: a pose is ${sampled} m off`);
        assert.ok(answer.distance! <= sampled + CLAIM, `${name}: ${answer.distance} against ${sampled}`);
        assert.ok(Math.abs(off - answer.distance!) < 1e-9, name);
      }
    }
    assert.ok(20 < refused, `${refused}`);
  }).timeout(60_000);

  for (const kind of ["turn", "view"] as const) {
    it(`is: a pose that looks as asked bounds the distance of a goal with its whole ${kind}`, () => {
      let refused = 0;
      for (let seed = 1; seed <= 24; seed++) {
        const rig = new Workspace(seed);
        const random = seededRandom(100 + seed);
        for (let n = 0; n < 3; n++) {
          const { at, rotation: m } = rig.posed(rig.sample(random).q);
          const off = n === 0 ? ([0, 0, 0] as const) : somewhere(random, 0.2 * n * n);
          const target: Vec3 = [at[0] + 2 * m[0], at[1] + 2 * m[3], at[2] + 2 * m[6]];
          const position = at.map((value, r) => value + off[r]) as unknown as Vec3;
          const answer = rig.solve({
            position,
            pupil: PUPIL,
            orientation:
              kind === "turn"
                ? { kind, turn: quatFromMatrix(m) }
                : { kind, target, sight: [1, 0, 0], rule: { kind: "axis" } },
          });
          const name = `rig ${seed}, goal ${n}`;
          if (n === 0) assert.equal(answer.status, "converged", `${name} was made from a pose`);
          if (answer.status === "converged") continue;
          refused += 1;
          const known = Math.hypot(...off);
          assert.ok(answer.angleError < 1e-3, `${name}: ${answer.angleError} rad off`);
          assert.ok(answer.distance! <= known + CLAIM, `${name}: ${answer.distance} against ${known}`);
        }
      }
      assert.ok(10 < refused, `${refused}`);
    }).timeout(60_000);
  }
});

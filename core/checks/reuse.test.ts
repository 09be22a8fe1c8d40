import assert from "node:assert/strict";
import { aimAt, moveOf, randomMove, still } from "../../test/support/moves.ts";
import { floorRig } from "../../test/support/rigs.ts";
import { seededRandom, type Random } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "../motion/plan.ts";
import type { ResolvedKey, ResolvedMove } from "../motion/resolved-move.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";
import type { Order, Trajectory } from "../motion/trajectory.ts";
import { runChecks } from "./run-checks.ts";
import { createSeen } from "./seen.ts";

type Edit = (move: ResolvedMove, random: Random) => ResolvedMove;

const any = (random: Random, count: number): number => Math.min(count - 1, Math.floor(random() * count));

function withKey(move: ResolvedMove, at: number, change: (key: ResolvedKey) => Partial<ResolvedKey>): ResolvedMove {
  return { ...move, keys: move.keys.map((key, i) => (i === at ? { ...key, ...change(key) } : key)) };
}

/** What a person does to a move, one thing at a time. */
const EDITS: Readonly<Record<string, Edit>> = {
  "a value": (move, random) =>
    withKey(move, any(random, move.keys.length), ({ axes }) => ({
      axes: axes.map((one, i) => (i === 0 ? { ...one, value: one.value + 0.05 * random() } : one)),
    })),
  "a key more": (move, random) => {
    const at = any(random, move.keys.length - 1);
    const [a, b] = [move.keys[at], move.keys[at + 1]];
    const between = { ...b, label: "new", time: (a.time + b.time) / 2, camera: undefined };
    return { ...move, keys: [...move.keys.slice(0, at + 1), between, ...move.keys.slice(at + 1)] };
  },
  "a key less": (move, random) => {
    const at = 1 + any(random, move.keys.length - 1);
    return move.keys.length < 3 ? move : { ...move, keys: move.keys.filter((_, i) => i !== at) };
  },
  "a time": (move, random) => {
    const at = 1 + any(random, move.keys.length - 1);
    const [from, to] = [move.keys[at - 1].time, move.keys[at + 1]?.time ?? move.keys[at].time + 1];
    return withKey(move, at, () => ({ time: from + (to - from) * (0.2 + 0.6 * random()) }));
  },
  "a framing": (move, random) =>
    withKey(move, any(random, move.keys.length), () => ({ framing: [0.4 + 0.2 * random(), 0.5] })),
  "a target": (move, random) =>
    withKey(move, any(random, move.keys.length), () => ({ aim: aimAt(any(random, move.targets.length)) })),
  "a focus": (move, random) =>
    withKey(move, any(random, move.keys.length), () => ({
      focus:
        random() < 0.5
          ? { kind: "target", target: any(random, move.targets.length), origin: 0 }
          : { kind: "distance", distance: 0.5 + random(), origin: 0 },
    })),
  "a stop": (move, random) => withKey(move, any(random, move.keys.length), ({ stop }) => ({ stop: !stop })),
  "a place of the camera": (move, random) =>
    withKey(move, any(random, move.keys.length), () => ({
      axes: [],
      camera: { kind: "at", at: [0.6 + 0.2 * random(), 0.2 * random(), 1.2], origin: 0 },
    })),
  "the tolerance": (move, random) => ({ ...move, tolerance: { ...move.tolerance, aim: 1e-9 + random() } }),
  "a label, and where all is written": (move) => ({
    ...move,
    title: "other",
    keys: move.keys.map((key) => ({ ...key, origin: key.origin + 7, timeOrigin: key.timeOrigin + 7 })),
  }),
  "the rig": (move, random) => {
    const { mount } = move.rig;
    return { ...move, rig: { ...move.rig, mount: { ...mount, at: [mount.at[0] + 0.01 * random(), 0, 0.02] } } };
  },
  "the set": (move, random) => ({
    ...move,
    targets: move.targets.map((one, i) => (i === 0 ? { ...one, at: [2.2, 0.1 * random(), 1] } : one)),
  }),
};

/** With masses, a counterweight and narrow feet, so that loads have findings too. */
function laden(move: ResolvedMove): ResolvedMove {
  const { joints } = move.rig;
  const mass = (link: number, kg: number) => ({ name: "m", link, at: [0.1, 0.2, 0.3] as const, mass: kg, origin: 0 });
  const link = joints.findIndex(({ type }) => type === "rotary");
  const rig: ResolvedRig = {
    ...move.rig,
    masses: [mass(-1, 40), mass(joints.length - 1, 6)],
    counterweight: { link, at: [-0.4, 0, 0.1], mass: 8, massOrigin: 0, toleranceOrigin: 0 },
    support: { link: -1, corners: [[-0.3, 0.3], [0.3, 0.3], [0, -0.3]], margin: 0.6, origin: 0, marginOrigin: 0 }, // prettier-ignore
  };
  return { ...move, rig };
}

const ORDERS: readonly Order[] = [0, 1, 2, 3];

/** All that a trajectory says, at many instants and about its axes. */
function told(trajectory: Trajectory): unknown {
  const { duration, axes, knots, keys, sources, unset } = trajectory;
  const instants = [];
  for (let i = 0; i <= 30; i++) {
    const instant = trajectory.createInstant();
    trajectory.at((duration * i) / 30, instant, i % 2 === 0 ? "right" : "left");
    instants.push(instant);
  }
  const rates = axes.flatMap((_, axis) =>
    ORDERS.map((order) => {
      const { low, high } = trajectory.extremes(axis, order);
      const inner = [0.9 * low.value + 0.1 * high.value, 0.1 * low.value + 0.9 * high.value] as const;
      const outside = Number.isFinite(inner[0] + inner[1]) ? trajectory.outside(axis, order, ...inner) : [];
      return { low, high, outside };
    }),
  );
  return { duration, knots, keys, sources, unset, instants, rates };
}

describe("a move after an edit", () => {
  it("is planned and checked as if it were new, to the last bit, whatever was edited", () => {
    let reused = 0;
    for (let seed = 0; seed < 9; seed++) {
      const random = seededRandom(1000 + seed);
      let move = laden(randomMove(seed).move);
      const names = Object.keys(EDITS);
      let before = runToEnd(planTrajectory(move));
      const seen = createSeen();
      runToEnd(runChecks(before, undefined, seen));
      for (let step = 0; step < 2; step++) {
        const name = names[any(random, names.length)];
        move = EDITS[name](move, random);
        const after = runToEnd(planTrajectory(move, before.record));
        const fresh = runToEnd(planTrajectory(move));
        const findings = runToEnd(runChecks(after, undefined, seen));
        assert.deepEqual(findings, runToEnd(runChecks(fresh)), `seed ${seed}, ${name}`);
        assert.deepEqual(told(after), told(fresh), `seed ${seed}, ${name}`);
        reused += after.record.work.reused;
        assert.equal(fresh.record.work.reused, 0);
        before = after;
      }
    }
    assert.ok(25 < reused, `${reused}`);
  });

  /** Keys that an edit of one value reaches: blocks of knots and their margins, see `knot-rates.test.ts`. */
  const REACH = 36;

  function longMove(count: number): ResolvedMove {
    const wave = (i: number, period: number, size: number): number => size * Math.sin((2 * Math.PI * i) / period);
    const keys = Array.from({ length: count }, (_, i) => ({
      time: i,
      axes: { dolly: 0.5 + wave(i, 41, 0.4), swing: wave(i, 31, 0.3), lift: 0.1 + wave(i, 23, 0.1) },
      framing: [0.5 + wave(i, 17, 0.1), 0.5] as const,
      ...(i % 10 === 0 && { aim: aimAt((i / 10) % 2) }),
    }));
    return moveOf(floorRig(), keys, { targets: [still("lid", [3, 0.2, 1]), still("spout", [3.1, -0.2, 1.1])] });
  }

  it("is solved again only where the edit reaches", () => {
    const move = longMove(200);
    const before = runToEnd(planTrajectory(move));
    const { work } = before.record;
    const all = before.knots.length - 1;
    assert.deepEqual([work.solved, work.reused], [all, 0]);
    const edited = withKey(move, 100, ({ axes }) => ({
      axes: axes.map((one, i) => (i === 2 ? { ...one, value: one.value + 0.01 } : one)),
    }));
    const after = runToEnd(planTrajectory(edited, before.record));
    assert.equal(after.record.work.solved + after.record.work.reused, all);
    assert.ok(after.record.work.solved <= 2 * REACH, `${after.record.work.solved} of ${all}`);
    assert.ok(2 <= after.record.work.solved);
    const shared = after.intervals.filter((one, i) => one === before.intervals[i]).length;
    assert.equal(shared, after.record.work.reused);
    const same = runToEnd(planTrajectory({ ...move, title: "other" }, before.record));
    assert.equal(same.record.work.solved, 0);
  });

  it("is solved again only near a key that comes or goes", () => {
    const move = longMove(200);
    const before = runToEnd(planTrajectory(move));
    const keys = move.keys.filter((_, i) => i !== 94);
    const after = runToEnd(planTrajectory({ ...move, keys }, before.record));
    assert.ok(after.record.work.solved <= 4 * REACH, `${after.record.work.solved}`);
    const shorter = runToEnd(planTrajectory({ ...move, keys: move.keys.slice(0, -1) }, before.record));
    assert.ok(shorter.record.work.solved <= 2 * REACH, `${shorter.record.work.solved}`);
  });
});

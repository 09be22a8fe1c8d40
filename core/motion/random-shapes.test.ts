import assert from "node:assert/strict";
import fc from "fast-check";
import { randomMove } from "../../test/support/moves.ts";
import { seededRandom } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import { isRest, leavesAt } from "./key-timing.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedEase, ResolvedKey, ResolvedMove } from "./resolved-move.ts";
import type { Instant, Trajectory } from "./trajectory.ts";

const plan = (move: ResolvedMove): Trajectory => runToEnd(planTrajectory(move));

function at(trajectory: Trajectory, t: number, side: "left" | "right" = "right"): Instant {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, side);
  return instant;
}

const near = (a: number, b: number, slack = 1e-12): void =>
  assert.ok(Math.abs(a - b) <= slack * Math.max(1, Math.abs(b)), `${a} is not ${b}`);

const EASES: readonly (ResolvedEase | undefined)[] = [
  undefined,
  undefined,
  { kind: "minimum-jerk" },
  { kind: "linear", ramp: 0.1 },
  { kind: "cubic", handles: [0.25, 0.1, 0.25, 1] },
  { kind: "cubic", handles: [0.34, 1.56, 0.64, 1], ramp: 0.05 },
];

/** A random move whose keys are held, eased, sped and switched at random. */
function shapedMove(seed: number): ResolvedMove {
  const { move } = randomMove(seed);
  const random = seededRandom(seed + 1);
  let later = 0;
  const keys = move.keys.map((key): ResolvedKey => {
    const hold = random() < 0.3 ? 0.2 + random() : undefined;
    const ease = EASES[Math.floor(random() * EASES.length)];
    const time = key.time + later;
    later += hold ?? 0;
    const begin = 0.5 * random();
    return {
      ...key,
      time,
      ...(hold && { hold }),
      ...(ease && { ease }),
      ...(random() < 0.4 && { speed: { share: 0.3 + 1.5 * random(), origin: 0 } }),
      ...(random() < 0.4 && { switch: { begin, end: begin + 0.1 + 0.4 * random(), origin: 0 } }),
    };
  });
  return { ...move, keys };
}

describe("random holds, eases, speeds and switches", () => {
  const seeds = fc.integer({ min: 0, max: 1e6 });

  it("leave every axis C2, and finite throughout", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const trajectory = plan(shapedMove(seed));
        for (const knot of trajectory.knots.slice(1, -1)) {
          const [left, right] = [at(trajectory, knot, "left"), at(trajectory, knot)];
          if (left.status !== "converged" || right.status !== "converged") continue;
          for (const table of ["value", "speed", "accel"] as const) {
            left[table].forEach((value, i) => near(value, right[table][i], 1e-6));
          }
        }
        for (let i = 0; i <= 100; i++) {
          const now = at(trajectory, (trajectory.duration * i) / 100);
          for (const table of [now.value, now.speed, now.accel, now.jerk]) assert.ok(table.every(Number.isFinite));
        }
      }),
      { seed: 21, numRuns: 12 },
    );
  });

  it("stay finite with numbers that no document can give", () => {
    const odd = [NaN, -1, 0, 1e-12, 1e-6, 1e9, Infinity];
    fc.assert(
      fc.property(seeds, (seed) => {
        const random = seededRandom(seed);
        const pick = (): number => odd[Math.floor(random() * odd.length)];
        const move = shapedMove(seed);
        const keys = move.keys.map((key): ResolvedKey => ({
          ...key,
          ...(random() < 0.3 && { hold: [-1, 0, 1e-12, 1e-6, 300][Math.floor(5 * random())] }),
          ...(random() < 0.3 && { speed: { share: pick(), origin: 0 } }),
          ...(random() < 0.3 && { ease: { kind: "linear", ramp: pick() } }),
          ...(random() < 0.3 && { ease: { kind: "cubic", handles: [pick(), pick(), pick(), pick()], ramp: pick() } }),
          ...(random() < 0.3 && { switch: { begin: pick(), end: pick(), origin: 0 } }),
        }));
        const trajectory = plan({ ...move, keys });
        for (let i = 0; i <= 20; i++) {
          const now = at(trajectory, (trajectory.duration * i) / 20);
          for (const table of [now.value, now.speed, now.accel, now.jerk, now.position]) {
            assert.ok(table.every(Number.isFinite), `at ${now.t} of ${trajectory.duration}`);
          }
        }
      }),
      { seed: 25, numRuns: 8 },
    );
  });

  it("keep what is keyed between its neighbouring keys, but for cubics", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const move = shapedMove(seed);
        const trajectory = plan(move);
        move.axes.forEach((_, index) => {
          if (trajectory.sources[index] !== "keyed") return;
          const own = move.keys.flatMap((key) => {
            const value = key.axes.find((one) => one.axis === index)?.value;
            return value === undefined ? [] : [{ key, value }];
          });
          own.slice(1).forEach(({ key, value }, i) => {
            if (key.ease?.kind === "cubic") return;
            const from = own[i];
            for (let n = 0; n <= 30; n++) {
              const t = from.key.time + ((key.time - from.key.time) * n) / 30;
              const rise = at(trajectory, t, n === 30 ? "left" : "right").speed[index] * Math.sign(value - from.value);
              assert.ok(-1e-8 <= rise, `axis ${index} goes back at ${t}`);
            }
          });
        });
      }),
      { seed: 22, numRuns: 12 },
    );
  });

  it("are the same to the last bit whether planned after an edit of one of them or afresh", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const random = seededRandom(seed + 2);
        const before = shapedMove(seed);
        const edited = Math.floor(random() * before.keys.length);
        const changes: Partial<ResolvedKey>[] = [
          { hold: 0.1 },
          { ease: { kind: "linear", ramp: 0.15 } },
          { speed: { share: 0.8, origin: 0 } },
          { switch: { begin: 0.3, end: 0.6, origin: 0 } },
        ];
        const change = changes[Math.floor(random() * changes.length)];
        const after = { ...before, keys: before.keys.map((key, i) => (i === edited ? { ...key, ...change } : key)) };
        const fresh = plan(after);
        const again = runToEnd(planTrajectory(after, plan(before).record));
        assert.deepEqual(again.knots, fresh.knots);
        for (let i = 0; i <= 60; i++) {
          const t = (fresh.duration * i) / 60;
          assert.deepEqual(at(again, t), at(fresh, t));
        }
      }),
      { seed: 26, numRuns: 12 },
    );
  });

  it("have extremes that no sample passes and that are there", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const trajectory = plan(shapedMove(seed));
        const steps = 400;
        const samples = Array.from({ length: steps + 1 }, (_, i) => at(trajectory, (trajectory.duration * i) / steps));
        trajectory.axes.forEach((_, index) => {
          if (trajectory.sources[index] !== "keyed") return;
          for (const [order, table] of [
            [1, "speed"],
            [2, "accel"],
            [3, "jerk"],
          ] as const) {
            const { low, high } = trajectory.extremes(index, order);
            const slack = 1e-9 + 1e-6 * Math.max(Math.abs(low.value), Math.abs(high.value));
            for (const sample of samples) {
              const value = sample[table][index];
              assert.ok(low.value - slack <= value && value <= high.value + slack, `${table} ${value} at ${sample.t}`);
            }
            for (const extreme of [low, high]) {
              near(at(trajectory, extreme.t, extreme.side)[table][index], extreme.value, slack);
            }
          }
        });
      }),
      { seed: 24, numRuns: 12 },
    );
  });

  it("keep all in place at held keys but what follows a target that moves by itself", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const move = shapedMove(seed);
        const resting = { ...move, targets: move.targets.map(({ follow: _, ...target }) => target) };
        const trajectory = plan(resting);
        for (const key of resting.keys.filter(isRest)) {
          const instants = [0, 0.5, 1].map((part) => {
            const t = key.time + (leavesAt(key) - key.time) * part;
            return at(trajectory, t, part === 1 && 0 < t ? "left" : "right");
          });
          for (const instant of instants) {
            if (instant.status !== "converged") continue;
            for (const speed of instant.speed) assert.ok(Math.abs(speed) < 1e-6, `speed ${speed} at ${instant.t}`);
          }
        }
      }),
      { seed: 23, numRuns: 12 },
    );
  });
});

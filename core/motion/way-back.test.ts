import assert from "node:assert/strict";
import fc from "fast-check";
import { aimAt, moveOf, randomMove, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove, ResolvedWayBack } from "./resolved-move.ts";
import { sampleTake } from "./sample.ts";
import type { Instant, Order, Trajectory } from "./trajectory.ts";
import { wayBack } from "./way-back.ts";

const plan = (move: ResolvedMove): Trajectory => runToEnd(planTrajectory(move));
const back = (move: ResolvedMove): Trajectory | undefined => runToEnd(wayBack(plan(move)));
const reversedAt = (share: number): ResolvedWayBack => ({ kind: "reversed", share, origin: 0 });
const direct = (time: number, via: { at: number; axes: Record<number, number> }[] = []): ResolvedWayBack => ({
  kind: "direct",
  time,
  timeOrigin: 0,
  via: via.map(({ at, axes }) => ({
    at,
    axes: Object.entries(axes).map(([axis, value]) => ({ axis: Number(axis), value, origin: 0 })),
    origin: 0,
  })),
  origin: 0,
});

function at(trajectory: Trajectory, t: number): Instant {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant);
  return instant;
}

const near = (actual: number, expected: number, within = 1e-9): void =>
  assert.ok(Math.abs(actual - expected) <= within * Math.max(1, Math.abs(expected)), `${actual} is not ${expected}`);

const TABLES = ["value", "speed", "accel", "jerk"] as const;

describe("the way back, reversed", () => {
  it("takes twice the time, from the last values to the first, and is at rest at both", () => {
    const keys: KeyText[] = [
      { time: 0, axes: { slide: -0.3, pan: 0, tilt: 0 } },
      { time: 4, axes: { slide: 0.5, pan: 0.4 } },
    ];
    const way = back(moveOf(sliderRig(), keys))!;
    near(way.duration, 8);
    for (const [t, values] of [
      [0, [0.5, 0.4, 0]],
      [8, [-0.3, 0, 0]],
    ] as const) {
      values.forEach((value, axis) => near(at(way, t).value[axis], value));
      for (const speed of at(way, t).speed) near(speed, 0);
    }
    // Least jerk half-way: 1.875 times the mean speed (Flash & Hogan 1985), here over 8 s.
    near(at(way, 4).speed[0], (-1.875 * 0.8) / 8);
  });

  it("is the motion of a move with its keys mirrored in time", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), fc.double({ min: 0.1, max: 1, noNaN: true }), (seed, share) => {
        const { move } = randomMove(seed);
        const keys = move.keys.map(({ label, time, stop, origin, timeOrigin, framingOrigin, axes }) => {
          return { label, time, stop, origin, timeOrigin, framingOrigin, axes };
        });
        const plain = { ...move, keys, wayBack: reversedAt(share) };
        const { time: end } = keys[keys.length - 1];
        const mirrored = keys.map((key) => ({ ...key, time: (end - key.time) / share })).reverse();
        const [way, other] = [back(plain), plan({ ...plain, keys: mirrored })];
        assert.ok(way);
        near(way.duration, other.duration);
        for (let n = 0; n < 20; n++) {
          const t = way.duration * (((n + 0.5) * 0.618034) % 1);
          const [a, b] = [at(way, t), at(other, t)];
          for (const table of TABLES) a[table].forEach((value, axis) => near(value, b[table][axis], 1e-6));
          a.position.forEach((value, axis) => near(value, b.position[axis]));
        }
      }),
      { numRuns: 25, seed: 4 },
    );
  });

  it("has the derivatives of its own values, on any rig, aim and lens", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (seed) => {
        const way = back({ ...randomMove(seed).move, wayBack: reversedAt(0.37) })!;
        const h = 1e-3;
        for (let n = 0; n < 8; n++) {
          const t = way.duration * (((n + 0.5) * 0.618034) % 1);
          if (way.knots.some((knot) => Math.abs(knot - t) < 2 * h)) continue;
          const [before, now, after] = [t - h, t, t + h].map((time) => at(way, time));
          const agrees = (low: Float64Array, high: Float64Array, given: ArrayLike<number>): void =>
            low.forEach((value, i) => near(given[i], (high[i] - value) / (2 * h), 2e-4));
          for (let k = 0; k < 3; k++) agrees(before[TABLES[k]], after[TABLES[k]], now[TABLES[k + 1]]);
          agrees(before.position, after.position, now.velocity);
          agrees(Float64Array.of(before.focal), Float64Array.of(after.focal), now.focalRates.subarray(0, 1));
          agrees(before.focalRates.subarray(0, 2), after.focalRates.subarray(0, 2), now.focalRates.subarray(1));
        }
      }),
      { numRuns: 15, seed: 5 },
    );
  });

  it("tells the extremes that samples of it come near to, and the spans beyond a limit", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000 }), (seed) => {
        const way = back({ ...randomMove(seed).move, wayBack: reversedAt(0.5) })!;
        const [from, to] = [0.2 * way.duration, 0.9 * way.duration];
        const times = Array.from({ length: 150 }, (_, i) => from + ((to - from) * i) / 149);
        for (let axis = 0; axis < way.axes.length; axis++) {
          for (const order of [0, 1, 2] as Order[]) {
            const { low, high } = way.extremes(axis, order, from, to);
            const values = times.map((t) => at(way, t)[TABLES[order]][axis]);
            const [least, most] = [Math.min(...values), Math.max(...values)];
            const slack = 1e-3 * (high.value - low.value) + 1e-9;
            assert.ok(low.value <= least + slack && most - slack <= high.value, `seed ${seed}`);
            const seen = way.createInstant();
            way.at(high.t, seen, high.side);
            near(seen[TABLES[order]][axis], high.value, 1e-3);
            const limit = low.value + 0.7 * (high.value - low.value);
            if (high.value - low.value < 1e-6) continue;
            const spans = way.outside(axis, order, -Infinity, limit);
            for (const [i, t] of times.entries()) {
              const inside = spans.some((span) => span.from - 1e-6 <= t && t <= span.to + 1e-6);
              if (slack < values[i] - limit) assert.ok(inside, `seed ${seed} at ${t}`);
              if (slack < limit - values[i])
                assert.ok(!spans.some((span) => span.from + 1e-6 < t && t < span.to - 1e-6));
            }
          }
        }
      }),
      { numRuns: 3, seed: 6 },
    );
  });

  it("bounds speeds and accelerations within each interval", () => {
    for (const seed of [3, 11, 42, 77]) {
      const way = back({ ...randomMove(seed).move, wayBack: reversedAt(0.6) })!;
      assert.equal(way.intervals.length, way.knots.length - 1);
      for (let k = 0; k < way.intervals.length; k++) {
        for (const order of [1, 2] as const) {
          for (let axis = 0; axis < way.axes.length; axis++) {
            const bound = way.bound(k, axis, order);
            const { low, high } = way.extremes(axis, order, way.knots[k], way.knots[k + 1]);
            // At a knot both sides count as extremes, within it they are bounded by the interval's own.
            const inner = Array.from(
              { length: 20 },
              (_, i) => way.knots[k] + ((way.knots[k + 1] - way.knots[k]) * (i + 0.5)) / 20,
            );
            for (const t of inner) assert.ok(Math.abs(at(way, t)[TABLES[order]][axis]) <= bound * (1 + 1e-9) + 1e-9);
            assert.ok(bound <= 20 * Math.max(Math.abs(low.value), Math.abs(high.value)) + 1e-4, `${bound}`);
          }
        }
      }
    }
  });

  it("fills a take as it fills an instant", () => {
    const way = back({ ...randomMove(11).move, wayBack: reversedAt(0.6) })!;
    const times = Array.from({ length: 30 }, (_, i) => (way.duration * i) / 30);
    const take = runToEnd(sampleTake(way, times));
    const count = way.axes.length;
    times.forEach((t, row) => {
      const instant = at(way, t);
      for (const table of TABLES) {
        assert.deepEqual(Array.from(take[table].subarray(count * row, count * (row + 1))), Array.from(instant[table]));
      }
      assert.deepEqual(Array.from(take.position.subarray(3 * row, 3 * row + 3)), Array.from(instant.position));
    });
  });

  it("does not wait where the take is held at rest", () => {
    const keys: KeyText[] = [
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0 }, hold: 1 },
      { time: 3, axes: { slide: 0.2 }, hold: 5 },
      { time: 11, axes: { slide: 0.3 }, hold: 2 },
    ];
    const way = back(moveOf(sliderRig(), keys))!;
    // 2 s and 3 s of moving, at half speed.
    near(way.duration, 10);
    near(at(way, 6).value[0], 0.2);
    assert.deepEqual(
      way.move.keys.map(({ time, hold }) => [time, hold]),
      [
        [0, undefined],
        [6, undefined],
        [10, undefined],
      ],
    );
  });

  it("goes back through a hold in which the head goes on", () => {
    const path = [
      { time: 0, to: [2, -0.5, 1] as const },
      { time: 9, to: [2, 0.5, 1] as const },
    ];
    const keys: KeyText[] = [
      { time: 0, axes: { slide: 0 }, aim: aimAt(0) },
      { time: 2, axes: { slide: 0.2 }, hold: 3 },
      { time: 8, axes: { slide: 0.3 } },
    ];
    const way = back(moveOf(sliderRig(), keys, { targets: [{ ...still("tea", [2, -0.5, 1]), follow: path }] }))!;
    near(way.duration, 16);
    assert.equal(way.move.keys[1].hold, 6);
  });

  it("turns a turntable back", () => {
    const plate = { name: "plate", at: [2, 0, 1] as const, along: [0, 0, 1] as const, limits: {}, origins: NOWHERE };
    const keys: KeyText[] = [
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0, plate: 0 } },
      { time: 6, axes: { plate: 2 * Math.PI } },
    ];
    const way = back(moveOf(sliderRig(), keys, { turntables: [plate] }))!;
    near(at(way, 0).value[3], 2 * Math.PI);
    near(at(way, way.duration).value[3], 0);
  });
});

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };

describe("the way back of a move", () => {
  const there: KeyText[] = [
    { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
    { time: 4, axes: { slide: 0.5 } },
    { time: 8, axes: { slide: 0 } },
  ];

  it("is none where the move ends as it begins, unless it is asked for", () => {
    assert.equal(back(moveOf(sliderRig(), there)), undefined);
    near(back(moveOf(sliderRig(), there, { wayBack: reversedAt(1) }))!.duration, 8);
    assert.equal(back(moveOf(sliderRig(), there, { wayBack: direct(3) })), undefined);
  });

  it("is none where it is set anew by hand, and for a move of one key", () => {
    const keys = there.slice(0, 2);
    assert.equal(back(moveOf(sliderRig(), keys, { wayBack: { kind: "none", origin: 0 } })), undefined);
    assert.equal(back(moveOf(sliderRig(), keys.slice(0, 1))), undefined);
    assert.equal(back(moveOf(sliderRig(), [{ ...there[0], hold: 3 }], { wayBack: reversedAt(0.5) })), undefined);
  });
});

describe("a way back of its own", () => {
  const keys: KeyText[] = [
    { time: 0, axes: { slide: -0.3, pan: 0.2 }, aim: aimAt(0) },
    { time: 4, axes: { slide: 0.5 } },
  ];
  const move = moveOf(
    sliderRig(),
    keys.map(({ time, axes, ...rest }) => ({ time, axes: { slide: axes!.slide }, ...rest })),
    {
      targets: [still("lid", [2, 0, 1])],
    },
  );

  it("takes all axes at once, with least jerk, the solved ones too, in its time", () => {
    const take = plan(move);
    const way = runToEnd(wayBack({ ...take, move: { ...move, wayBack: direct(5) } }))!;
    near(way.duration, 5);
    const [first, last] = [at(take, 0), at(take, take.duration)];
    for (let axis = 0; axis < 3; axis++) {
      const rise = first.value[axis] - last.value[axis];
      near(at(way, 0).value[axis], last.value[axis]);
      near(at(way, 5).value[axis], first.value[axis]);
      // Flash & Hogan 1985: half-way at 1.875 times the mean speed.
      near(at(way, 2.5).value[axis], last.value[axis] + rise / 2);
      near(at(way, 2.5).speed[axis], (1.875 * rise) / 5);
    }
    assert.equal(at(way, 2.5).aimTo, -1);
  });

  it("passes through what it is told to, the other axes smoothly", () => {
    const way = back({ ...move, wayBack: direct(8, [{ at: 0.25, axes: { 2: 0.7 } }]) })!;
    near(at(way, 2).value[2], 0.7);
    const turning = at(way, 2).speed[0];
    assert.ok(turning < 0, "the slide does not stop");
    assert.deepEqual(
      way.move.keys.map(({ label, time }) => [label, time]),
      [
        ["key 2", 0],
        ["`via` 1 of `return`", 2],
        ["key 1", 8],
      ],
    );
  });

  it("takes a zoom back", () => {
    const zooms = moveOf(
      sliderRig(),
      [
        { time: 0, axes: { slide: 0, pan: 0, tilt: 0 }, zoom: { focal: 0.04, origin: 0 } },
        { time: 4, axes: { slide: 0.2 }, zoom: { focal: 0.05, origin: 0 } },
      ],
      { optics: randomMove(1).move.optics, wayBack: direct(4) },
    );
    const way = back(zooms)!;
    near(at(way, 0).focal, 0.05);
    near(at(way, 4).focal, 0.04);
  });

  it("takes over intervals of the way before an edit", () => {
    const asked = { ...move, wayBack: direct(5) };
    const before = back(asked)!;
    const after = runToEnd(wayBack(plan({ ...asked, title: "another" }), before.record))!;
    assert.equal(after.intervals[0], before.intervals[0]);
  });
});

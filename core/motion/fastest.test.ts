import assert from "node:assert/strict";
import { aimAt, moveOf, randomMove, sliderRig, still, type KeyText } from "../../test/support/moves.ts";
import { joint, rigOf } from "../../test/support/rigs.ts";
import { seededRandom } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import type { AxisLimits } from "../rig/resolved-rig.ts";
import { fastestPart } from "./fastest-part.ts";
import { pathOfMove } from "./fastest-path.ts";
import { fastestOf, fastestTiming, type FastestTiming } from "./fastest.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { BASIS, writeSquare } from "./squared-speed.ts";
import { between } from "./time-nodes.ts";
import type { Trajectory } from "./trajectory.ts";

const LIMITS: AxisLimits = { speed: 0.5, accel: 0.4, jerk: 1.5 };

/** The slider of the tests, all of its axes limited. */
function limited(keys: readonly KeyText[], more: Partial<ResolvedMove> = {}): ResolvedMove {
  const rig = sliderRig();
  const joints = rig.joints.map((one) => ({ ...one, limits: LIMITS }));
  return moveOf({ ...rig, joints }, keys, { targets: [still("pot", [0.8, 0, 1.1])], ...more });
}

function timed(move: ResolvedMove): FastestTiming {
  const timing = runToEnd(fastestTiming(move));
  const { planned, length, time } = timing.path;
  const numbers = [...timing.keyTimes, timing.duration, timing.lowerBound, ...planned, ...length, ...time];
  assert.ok(numbers.every(Number.isFinite));
  assert.equal(timing.keyTimes.length, move.keys.length);
  assert.ok(planned.length === time.length && planned.length === length.length);
  for (let i = 1; i < time.length; i++) {
    assert.ok(planned[i - 1] <= planned[i] && length[i - 1] <= length[i] && time[i - 1] <= time[i]);
  }
  assert.ok(timing.lowerBound <= timing.duration);
  return timing;
}

function peaks(trajectory: Trajectory, axis: number): [number, number, number] {
  return [1, 2, 3].map((order) => {
    const { low, high } = trajectory.extremes(axis, order as 1 | 2 | 3);
    return Math.max(-low.value, high.value);
  }) as [number, number, number];
}

/** A random move at rest targets, its limits around what it takes as it is: `least` to `most` times. */
function randomLimited(seed: number, least: number, most: number): Trajectory {
  const { move } = randomMove(seed);
  const random = seededRandom(seed + 1);
  const resting = { ...move, targets: move.targets.map(({ follow: _follow, ...target }) => target) };
  const trajectory = runToEnd(planTrajectory(resting));
  const axes = resting.axes.map((axis, i) => {
    const limitOf = (peak: number): number | undefined =>
      1e-9 < peak && random() < 0.85 ? peak * (least + (most - least) * random()) : undefined;
    const [speed, accel, jerk] = peaks(trajectory, i).map(limitOf);
    return { ...axis, limits: { speed, accel, jerk } };
  });
  return runToEnd(planTrajectory({ ...resting, axes }));
}

/** Difference quotients of the values themselves at one instant of the fastest, against the limits of their axes. */
function worstQuotient(trajectory: Trajectory, from: number, to: number, random: () => number): number {
  const path = pathOfMove(trajectory, from, to);
  const { speed, path: own, places, duration } = runToEnd(fastestPart(path));
  const quick = own !== path;
  const basis = new Float64Array(BASIS);
  const square = new Float64Array(3);
  const { nodes } = speed;
  const rate = (u: number): number => {
    const inside = Math.min(Math.max(u, nodes[0]), nodes[nodes.length - 1]);
    let i = 0;
    while (i + 2 < nodes.length && nodes[i + 1] <= inside) i += 1;
    writeSquare(speed, i, (inside - nodes[i]) / (nodes[i + 1] - nodes[i]), basis, square);
    return Math.sqrt(square[0]);
  };
  // Runge and Kutta's method of fourth order over du/dt = √b.
  const walk = (u: number, dt: number): number => {
    const a = rate(u);
    const b = rate(u + (dt * a) / 2);
    const c = rate(u + (dt * b) / 2);
    return u + (dt / 6) * (a + 2 * b + 2 * c + rate(u + dt * c));
  };
  const instant = trajectory.createInstant();
  const h = Math.min(2e-3, duration / 2000);
  let worst = 0;
  for (let round = 0; round < 60; round++) {
    const start = nodes[0] + (nodes[nodes.length - 1] - nodes[0]) * (0.02 + 0.96 * random());
    const us = [start];
    for (let k = 0; k < 3; k++) us.push(walk(us[k], h));
    const values = us.map((u) => {
      trajectory.at(quick ? between(nodes, places, u) : u, instant);
      return instant.value.slice();
    });
    path.axes.forEach((axis, i) => {
      const [a, b, c, d] = values.map((value) => value[axis]);
      const { speed: v, accel, jerk } = path.limits[i];
      const quotients = [(b - a) / h / (v ?? Infinity), (c - 2 * b + a) / h ** 2 / (accel ?? Infinity)];
      if (jerk !== undefined) quotients.push((d - 3 * c + 3 * b - a) / h ** 3 / jerk);
      for (const quotient of quotients) worst = Math.max(worst, Math.abs(quotient));
    });
  }
  return worst;
}

describe("the fastest timing of a move", () => {
  it("of one axis is the published least time, all keys' times with it", () => {
    // The seven segments of d 3, V 1.2, A 0.8, J 2 take 4.4 s (Biagiotti and Melchiorri, 2008, section 3.4).
    const rig = rigOf([
      joint("slide", "linear", [0, 1, 0], undefined, { limits: { speed: 1.2, accel: 0.8, jerk: 2 } }),
    ]);
    const move = moveOf(rig, [
      { time: 0, axes: { slide: -1 } },
      { time: 5, axes: { slide: 0.5 } },
      { time: 9, axes: { slide: 2 } },
    ]);
    const timing = timed(move);
    assert.equal(timing.status, "timed");
    assert.ok(4.4 * 0.9995 < timing.duration && timing.duration < 4.4 * 1.005, String(timing.duration));
    assert.ok(Math.abs(timing.keyTimes[1] - 2.2) < 0.01 && timing.keyTimes[2] === timing.duration);
    // Trapezium: 3 / 1.2 + 1.2 / 0.8 = 4 s.
    assert.ok(Math.abs(timing.lowerBound - 4) < 0.004);
    assert.deepEqual(
      timing.sections.map(({ from, to }) => [from, to]),
      [[0, 2]],
    );
    const most = timing.sections[0].bindings[0];
    assert.ok(most.axis === 0 && most.order === 2 && Math.abs(most.share - 2.2 / 4.4) < 0.05);
  });

  it("rests at stops and holds, which last as long as before", () => {
    const keys: KeyText[] = [
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
      { time: 3, axes: { slide: 0.3 }, hold: 1.5 },
      { time: 8, axes: { slide: 0.4 }, stop: true },
      { time: 12, axes: { slide: 0 } },
    ];
    const timing = timed(limited(keys));
    assert.deepEqual(
      timing.sections.map(({ from, to }) => [from, to]),
      [
        [0, 1],
        [1, 2],
        [2, 3],
      ],
    );
    const moving = timing.sections.reduce((sum, section) => sum + section.duration, 0);
    assert.ok(Math.abs(timing.duration - moving - 1.5) < 1e-9);
    assert.ok(Math.abs(timing.keyTimes[2] - timing.keyTimes[1] - 1.5 - timing.sections[1].duration) < 1e-9);
    // 0.1 m does not come to the limit of speed: T = Tj + 2 √((Tj / 2)² + d / A) with Tj = A / J.
    const ramp = 0.4 / 1.5;
    const exact = ramp + 2 * Math.sqrt((ramp / 2) ** 2 + 0.1 / 0.4);
    assert.ok(exact * 0.9995 < timing.sections[1].duration && timing.sections[1].duration < exact * 1.005);
  });

  it("keeps every limit on random moves, is no shorter than its bound and no longer than the move evenly stretched", () => {
    const random = seededRandom(3);
    for (const [seed, least, most] of [
      [3, 0.3, 1.5],
      [8, 0.3, 1.5],
      [11, 0.3, 1.5],
      [14, 1, 1.5],
      [28, 1, 1.5],
    ] as const) {
      const trajectory = randomLimited(seed, least, most);
      const timing = runToEnd(fastestOf(trajectory));
      assert.equal(timing.status, "timed", `seed ${seed}: ${timing.reason}`);
      assert.ok(timing.lowerBound <= timing.duration);
      const stretch = trajectory.axes.map((axis, i) => {
        const [v, a, j] = peaks(trajectory, i);
        const { speed = Infinity, accel = Infinity, jerk = Infinity } = axis.limits;
        return Math.max(v / speed, Math.sqrt(a / accel), Math.cbrt(j / jerk));
      });
      assert.ok(timing.duration <= Math.max(...stretch) * trajectory.duration * 1.0001);
      if (1 <= least) assert.ok(timing.duration <= trajectory.duration);
      for (const { from, to, status } of timing.sections) {
        if (status !== "timed") continue;
        const worst = worstQuotient(trajectory, trajectory.move.keys[from].time, trajectory.move.keys[to].time, random);
        assert.ok(worst <= 1.001, `seed ${seed}: ${worst}`);
      }
    }
  }).timeout(120_000);

  it("is the same each time", () => {
    const keys = [
      { time: 0, axes: { slide: -0.4 }, aim: aimAt(0) },
      { time: 2, axes: { slide: 0.5 } },
    ];
    assert.deepEqual(timed(limited(keys)), timed(limited(keys)));
  });

  it("keeps the time of what no limited axis does, and says so", () => {
    const keys: KeyText[] = [
      { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
      { time: 2, axes: { slide: 0.3 }, stop: true },
      { time: 5, axes: { slide: 0.3 }, stop: true, zoom: { focal: 0.05, origin: 0 } },
      { time: 7, axes: { slide: 0 } },
    ];
    const timing = timed(limited(keys));
    assert.deepEqual(
      timing.sections.map(({ status }) => status),
      ["timed", "kept", "timed"],
    );
    assert.equal(timing.sections[1].duration, 3);
    assert.match(timing.reason!, /"key 2" and "key 3" no axis that has a limit moves/);
  });

  it("is refused where the path hangs on time, has no solution, or no bound", () => {
    const follow = [
      { time: 0, to: [0.8, 0, 1.1] as const },
      { time: 2, to: [0.8, 0.3, 1.1] as const },
    ];
    const keys = [
      { time: 0, axes: { slide: -0.4 }, aim: aimAt(0) },
      { time: 2, axes: { slide: 0.5 } },
    ];
    const moving = timed(limited(keys, { targets: [{ ...still("stream", [0.8, 0, 1.1]), follow }] }));
    assert.equal(moving.status, "moving-target");
    assert.match(moving.reason!, /"stream" moves by itself/);
    assert.deepEqual([moving.keyTimes, moving.duration], [[0, 2], 2]);
    // A course that stays in one place is none.
    const resting = follow.map(({ time }) => ({ time, to: [0.8, 0, 1.1] as const }));
    assert.equal(
      timed(limited(keys, { targets: [{ ...still("pot", [0.8, 0, 1.1]), follow: resting }] })).status,
      "timed",
    );
    // Straight above the head in the middle of the move: the pan turns half round at once.
    const above = timed(limited(keys, { targets: [still("lamp", [0, 0.05, 3])] }));
    assert.ok(above.status === "unbounded" || above.status === "unsolved", above.status);
    assert.ok(above.reason);
  });

  it("of moves without motion, without keys and without limits is refused in words", () => {
    const key: KeyText = { time: 0, axes: { slide: 0.1, pan: 0, tilt: 0 } };
    const free = moveOf(sliderRig(), [key, { time: 2, axes: { slide: 0.4 } }]);
    for (const move of [limited([]), limited([key]), limited([key, key]), limited([key, { ...key, time: 2 }]), free]) {
      const timing = timed(move);
      assert.equal(timing.status, "nothing-limited");
      assert.equal(timing.duration, move.keys.length === 0 ? 0 : move.keys[move.keys.length - 1].time);
      assert.ok(timing.reason);
    }
  });

  it("of huge, tiny and quick moves is finite", () => {
    for (const [value, time] of [
      [1e12, 1],
      [1e-7, 1],
      [1, 1e-8],
      [1e6, 1e6],
    ]) {
      timed(
        limited([
          { time: 0, axes: { slide: 0, pan: 0, tilt: 0 } },
          { time, axes: { slide: value } },
        ]),
      );
    }
  });
});

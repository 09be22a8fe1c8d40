import assert from "node:assert/strict";
import { randomMove } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { Instant, Order, Trajectory } from "./trajectory.ts";

const ORDERS: readonly Order[] = [0, 1, 2, 3];

function tableOf(instant: Instant, order: Order): Float64Array {
  return [instant.value, instant.speed, instant.accel, instant.jerk][order];
}

function planned(seed: number): Trajectory {
  return runToEnd(planTrajectory(randomMove(seed).move));
}

/** Sees every instant of a grid and both sides of every knot. */
function scan(trajectory: Trajectory, step: number, see: (instant: Instant, t: number) => void): void {
  const instant = trajectory.createInstant();
  const parts = Math.ceil(trajectory.duration / step);
  for (let i = 0; i <= parts; i++) {
    const t = (trajectory.duration * i) / parts;
    trajectory.at(t, instant, i === parts ? "left" : "right");
    see(instant, t);
  }
  for (const knot of trajectory.knots.slice(1, -1)) {
    for (const side of ["left", "right"] as const) {
      trajectory.at(knot, instant, side);
      see(instant, knot);
    }
  }
}

describe("extremes of a planned move", () => {
  it("are passed by no instant of a dense scan, and are there", () => {
    // 1/20 of a frame at 25 frames a second.
    for (let seed = 0; seed < 40; seed++) {
      const trajectory = planned(seed);
      const axes = trajectory.axes.length;
      const all = ORDERS.map((order) => trajectory.axes.map((_, axis) => trajectory.extremes(axis, order)));
      scan(trajectory, 0.002, (instant, t) => {
        for (const order of ORDERS) {
          const table = tableOf(instant, order);
          for (let axis = 0; axis < axes; axis++) {
            const { low, high } = all[order][axis];
            const slack = 1e-6 * Math.max(1e-6, Math.abs(low.value), Math.abs(high.value));
            if (low.value - slack <= table[axis] && table[axis] <= high.value + slack) continue;
            assert.fail(
              `seed ${seed} ${trajectory.axes[axis].name} order ${order} at ${t}: ${table[axis]} outside ${low.value}..${high.value}`,
            );
          }
        }
      });
      const instant = trajectory.createInstant();
      for (const order of ORDERS) {
        all[order].forEach((pair, axis) => {
          for (const { t, side, value } of [pair.low, pair.high]) {
            trajectory.at(t, instant, side);
            const there = tableOf(instant, order)[axis];
            assert.ok(Math.abs(there - value) <= 1e-9 * (1 + Math.abs(value)), `seed ${seed} order ${order}`);
          }
        });
      }
    }
  });

  it("of a part of the move are those of that part", () => {
    for (let seed = 0; seed < 20; seed++) {
      const trajectory = planned(seed);
      const [from, to] = [0.3 * trajectory.duration, 0.62 * trajectory.duration];
      const instant = trajectory.createInstant();
      for (const order of ORDERS) {
        trajectory.axes.forEach((_, axis) => {
          const { low, high } = trajectory.extremes(axis, order, from, to);
          assert.ok(from <= low.t && low.t <= to && from <= high.t && high.t <= to);
          let [least, most] = [Infinity, -Infinity];
          for (let i = 0; i <= 500; i++) {
            trajectory.at(from + ((to - from) * i) / 500, instant);
            least = Math.min(least, tableOf(instant, order)[axis]);
            most = Math.max(most, tableOf(instant, order)[axis]);
          }
          const size = Math.max(1e-6, Math.abs(low.value), Math.abs(high.value));
          assert.ok(low.value <= least + 1e-6 * size && most - 1e-6 * size <= high.value);
        });
      }
    }
  });
});

describe("spans outside a band", () => {
  it("hold every instant of a dense scan that is outside, and no other", () => {
    for (let seed = 0; seed < 30; seed++) {
      const trajectory = planned(seed);
      const bands = ORDERS.map((order) =>
        trajectory.axes.map((_, axis) => {
          const { low, high } = trajectory.extremes(axis, order);
          const middle = (low.value + high.value) / 2;
          // A tenth of the band at each end is outside.
          const reach = 0.45 * (high.value - low.value);
          return { low: middle - reach, high: middle + reach };
        }),
      );
      const spans = ORDERS.map((order) =>
        trajectory.axes.map((_, axis) =>
          trajectory.outside(axis, order, bands[order][axis].low, bands[order][axis].high),
        ),
      );
      scan(trajectory, 0.004, (instant, t) => {
        for (const order of ORDERS) {
          trajectory.axes.forEach((axis, index) => {
            const { low, high } = bands[order][index];
            const value = tableOf(instant, order)[index];
            const beyond = Math.max(low - value, value - high);
            const slack = 1e-6 * Math.max(1, high - low);
            if (Math.abs(beyond) <= slack) return;
            // Where a violation begins and ends is known to rounding.
            const near = (span: { from: number; to: number }, reach: number): boolean =>
              span.from - reach <= t && t <= span.to + reach;
            const held = spans[order][index].some((span) => near(span, 0 < beyond ? 1e-9 : -1e-9));
            if (held !== 0 < beyond) assert.fail(`seed ${seed} ${axis.name} order ${order} at ${t}`);
          });
        }
      });
      for (const order of ORDERS) {
        trajectory.axes.forEach((_, axis) => {
          for (const { from, to, worst } of spans[order][axis]) {
            assert.ok(from <= worst.t && worst.t <= to);
            const { low, high } = trajectory.extremes(axis, order, from, to);
            const { low: least, high: most } = bands[order][axis];
            const beyond = Math.max(least - low.value, high.value - most);
            assert.ok(Math.abs(Math.max(least - worst.value, worst.value - most) - beyond) <= 1e-6 * (1 + beyond));
          }
        });
      }
    }
  });
});

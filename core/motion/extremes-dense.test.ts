import assert from "node:assert/strict";
import { randomMove } from "../../test/support/moves.ts";
import { seededRandom } from "../base/random.ts";
import { runToEnd } from "../base/task.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedEase, ResolvedKey, ResolvedMove } from "./resolved-move.ts";
import type { Instant, Order, Side, Trajectory } from "./trajectory.ts";

const ORDERS: readonly Order[] = [0, 1, 2, 3];
const MOVES = 1000;
/** A fiftieth of a frame at 25 frames a second, and about a thousandth [s]. */
const STEP = 0.04 / 50;
const FINEST = 0.04 / 1000;
/** Places on each side of a highest instant that a finer look takes; each look is five times as fine. */
const AROUND = 4;
const FINER = 5;
/** Share of an extreme by which it may be passed. */
const MISSED = 1e-3;

/** A random move of two to four keys in a third of a second or so, some of them eased, held, or of another speed. */
function shortMove(seed: number): ResolvedMove {
  const { move } = randomMove(seed);
  const random = seededRandom(seed + 7);
  const keys = move.keys.slice(0, 2 + Math.floor(3 * random()));
  const shorter = (0.2 + 0.3 * random()) / keys[keys.length - 1].time;
  let held = 0;
  return {
    ...move,
    keys: keys.map((key, i): ResolvedKey => {
      const time = key.time * shorter + held;
      const way = i === 0 ? 0 : (key.time - keys[i - 1].time) * shorter;
      const eased = 0 < i && random() < 0.25 ? easeOf(random(), way) : undefined;
      const hold = random() < 0.1 ? 0.05 : 0;
      held += hold;
      return {
        ...key,
        time,
        ...(eased && { ease: eased }),
        ...(0 < hold && { hold }),
        ...(random() < 0.15 && { speed: { share: 0.5 + random(), origin: 0 } }),
        ...(key.aim && 0 < i && random() < 0.4 && { switch: { begin: 0.1, end: 0.7, origin: 0 } }),
      };
    }),
    targets: move.targets.map((target) => ({
      ...target,
      ...(target.follow && { follow: target.follow.map((place) => ({ ...place, time: place.time * shorter })) }),
    })),
  };
}

function easeOf(draw: number, way: number): ResolvedEase {
  if (draw < 0.4) return { kind: "linear", ramp: 0.3 * way };
  return draw < 0.7 ? { kind: "cubic", handles: [0.42, 0, 0.58, 1], ramp: 0.1 * way } : { kind: "minimum-jerk" };
}

function tableOf(instant: Instant, order: Order): Float64Array {
  return [instant.value, instant.speed, instant.accel, instant.jerk][order];
}

/** Lowest and highest value of each derivative of each axis that was seen, and when; by order · axes + axis. */
interface Seen {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly lowAt: Float64Array;
  readonly highAt: Float64Array;
}

/** Sees every fiftieth of a frame and both sides of every knot, then more and more closely round what was highest. */
function scan(trajectory: Trajectory): Seen {
  const instant = trajectory.createInstant();
  const axes = trajectory.axes.length;
  const size = ORDERS.length * axes;
  const seen = {
    low: new Float64Array(size).fill(Infinity),
    high: new Float64Array(size).fill(-Infinity),
    lowAt: new Float64Array(size),
    highAt: new Float64Array(size),
  };
  const see = (t: number, side: Side): void => {
    trajectory.at(t, instant, side);
    for (const order of ORDERS) {
      const table = tableOf(instant, order);
      for (let axis = 0, i = order * axes; axis < axes; axis++, i++) {
        if (table[axis] < seen.low[i]) [seen.low[i], seen.lowAt[i]] = [table[axis], instant.t];
        if (seen.high[i] < table[axis]) [seen.high[i], seen.highAt[i]] = [table[axis], instant.t];
      }
    }
  };
  const parts = Math.max(1, Math.ceil(trajectory.duration / STEP));
  for (let k = 0; k <= parts; k++) see((trajectory.duration * k) / parts, k === parts ? "left" : "right");
  for (const knot of trajectory.knots.slice(1, -1)) for (const side of ["left", "right"] as const) see(knot, side);
  for (let step = STEP / FINER; FINEST / FINER < step; step /= FINER) {
    for (const middle of new Set([...seen.lowAt, ...seen.highAt])) {
      for (let k = -AROUND; k <= AROUND; k++) if (k !== 0) see(middle + k * step, "right");
    }
  }
  return seen;
}

describe("extremes of a thousand random moves", () => {
  it("are passed by no instant of a scan at a fiftieth of a frame, refined to a thousandth", () => {
    let moving = 0;
    for (let seed = 0; seed < MOVES; seed++) {
      const trajectory = runToEnd(planTrajectory(shortMove(seed)));
      const seen = scan(trajectory);
      trajectory.axes.forEach(({ name }, axis) => {
        for (const order of ORDERS) {
          const { low, high } = trajectory.extremes(axis, order);
          const size = Math.max(Math.abs(low.value), Math.abs(high.value));
          if (!(1e-9 < size)) continue;
          moving += 1;
          const i = order * trajectory.axes.length + axis;
          const passed = Math.max(seen.high[i] - high.value, low.value - seen.low[i]);
          if (MISSED * size < passed) {
            const found = `${seen.low[i]}..${seen.high[i]} at ${seen.lowAt[i]} and ${seen.highAt[i]}`;
            assert.fail(`seed ${seed} ${name} order ${order}: ${found}, not ${low.value}..${high.value}`);
          }
        }
      });
    }
    assert.ok(10 * MOVES < moving, `only ${moving} derivatives differ from nothing`);
  }).timeout(900_000);
});

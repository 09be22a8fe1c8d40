import { leavesAt } from "./key-timing.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { reversedClock, type ReversedClock } from "./reversed-clock.ts";
import { reverseRates, reverseRow } from "./reversed-rates.ts";
import type { Extreme, Order, Side, Trajectory, Violation } from "./trajectory.ts";

/**
 * A take seen backwards: at time t of it the take's pose T - s t, so speeds are -s times, accelerations s² and jerks -s³
 * times the take's. What is solved in the take, the aim too, is as it was there.
 *
 * @param share s, share of the take's speed, more than 0.
 */
export function reversedWay(take: Trajectory, share: number): Trajectory {
  const clock = reversedClock(take, share);
  const { duration } = clock;
  const writeBack = reverseRow(take, share);
  const times = [...new Set([0, ...take.knots.map(clock.backTime), duration])].sort((a, b) => a - b);
  const factor = (order: Order): number => (-share) ** order;
  const seenAt = (extreme: Extreme, order: Order): Extreme => ({
    ...extreme,
    t: clock.backTime(extreme.t),
    value: factor(order) * extreme.value,
    side: mirrored(extreme.side),
  });
  return {
    ...take,
    move: mirroredMove(take.move, clock),
    duration,
    knots: times,
    keys: [...take.keys].reverse(),
    paths: [],
    intervals: times.slice(1).map(() => ({})),
    at(t, out, side = "right") {
      take.at(clock.takeTime(t, side), out, mirrored(side));
      out.t = Math.min(Math.max(0, t), duration);
      reverseRates(out, share);
    },
    poseAt(t, out, side = "right") {
      take.poseAt(clock.takeTime(t, side), out, mirrored(side));
      out.t = Math.min(Math.max(0, t), duration);
    },
    writeRow(t, side, row, index) {
      take.writeRow(clock.takeTime(t, side), mirrored(side), row, index);
      writeBack(row, index);
    },
    bound(interval, axis, order) {
      const middle = clock.takeTime((times[interval] + times[interval + 1]) / 2, "right");
      return Math.abs(factor(order)) * take.bound(intervalAt(take.knots, middle), axis, order);
    },
    extremes(axis, order, from = 0, to = duration) {
      const start = Math.min(Math.max(0, from), duration);
      const spans = clock.within(start, Math.min(Math.max(start, to), duration));
      const ends = spans.flatMap((span) => {
        const { low, high } = take.extremes(axis, order, span.from, span.to);
        return [seenAt(low, order), seenAt(high, order)];
      });
      return {
        low: ends.reduce((best, each) => (each.value < best.value ? each : best)),
        high: ends.reduce((best, each) => (each.value > best.value ? each : best)),
      };
    },
    outside(axis, order, low, high) {
      const by = factor(order);
      const [from, to] = by < 0 ? [high / by, low / by] : [low / by, high / by];
      const spans = take.outside(axis, order, from, to).map((span): Violation => {
        return { from: clock.backTime(span.to), to: clock.backTime(span.from), worst: seenAt(span.worst, order) };
      });
      return spans.sort((a, b) => a.from - b.from);
    },
  };
}

/** The interval between two knots that holds `t`. */
function intervalAt(knots: readonly number[], t: number): number {
  const after = knots.findIndex((knot) => t < knot);
  return Math.max(0, (after < 0 ? knots.length - 1 : after) - 1);
}

const mirrored = (side: Side): Side => (side === "left" ? "right" : "left");

/** The keys where they are passed on the way back, from the last to the first; the rests that are left out are no holds. */
function mirroredMove(move: ResolvedMove, clock: ReversedClock): ResolvedMove {
  const keys = [...move.keys].reverse().map(({ hold = 0, ...key }) => {
    const time = clock.backTime(leavesAt({ time: key.time, hold }));
    const until = clock.backTime(key.time);
    return time < until ? { ...key, time, hold: until - time } : { ...key, time };
  });
  return { ...move, keys, passes: [], expectations: [] };
}

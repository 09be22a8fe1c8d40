import { leavesAt } from "./key-timing.ts";
import type { Side, Trajectory } from "./trajectory.ts";

/** A stretch of a take that is gone back: take times `from`..`to`, from time `at` of the way back on [s]. */
interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly at: number;
}

/** Which time of a take each time of its way back shows. */
export interface ReversedClock {
  /** [s] */
  readonly duration: number;
  /** Take time at `t` of the way back, on that side of the rests that are left out. */
  takeTime(t: number, side: Side): number;
  /** Time of the way back at which the take's time `u` is shown. */
  backTime(u: number): number;
  /** The stretches of the take that show in `from`..`to` of the way back, in order of the way back. */
  within(from: number, to: number): readonly { readonly from: number; readonly to: number }[];
}

/** Goes back through the take at `share` of its speed, but does not wait where all of it rests at a held key. */
export function reversedClock(take: Trajectory, share: number): ReversedClock {
  const stretches = stretchesOf(take, share);
  const last = stretches[stretches.length - 1];
  const duration = last.at + (last.to - last.from) / share;
  const lasts = ({ from, to }: Stretch): number => (to - from) / share;
  const stretchAt = (t: number, side: Side): Stretch =>
    stretches.find((one) => t < one.at + lasts(one) || (side === "left" && t === one.at + lasts(one))) ?? last;
  return {
    duration,
    takeTime(t, side) {
      const one = stretchAt(t, side);
      return Math.min(one.to, Math.max(one.from, one.to - share * (t - one.at)));
    },
    backTime(u) {
      const one = stretches.find(({ from }) => from <= u) ?? last;
      return one.at + (one.to - Math.min(Math.max(one.from, u), one.to)) / share;
    },
    within: (from, to) =>
      stretches
        .filter((one) => one.at <= to && from <= one.at + lasts(one))
        .map((one) => ({
          from: Math.max(one.from, one.to - share * (to - one.at)),
          to: Math.min(one.to, one.to - share * (from - one.at)),
        })),
  };
}

/** The take from its end to its start, without the holds in which nothing moves. */
function stretchesOf(take: Trajectory, share: number): Stretch[] {
  const holds = take.move.keys
    .map((key) => ({ from: key.time, to: Math.min(leavesAt(key), take.duration) }))
    .filter(({ from, to }) => from < to && isStill(take, from, to));
  const edges = [0, ...holds.flatMap(({ from, to }) => [from, to]), take.duration];
  const out: Stretch[] = [];
  let at = 0;
  for (let i = edges.length - 2; 0 <= i; i -= 2) {
    const [from, to] = [edges[i], edges[i + 1]];
    if (!(from < to)) continue;
    out.push({ from, to, at });
    at += (to - from) / share;
  }
  return out.length > 0 ? out : [{ from: take.duration, to: take.duration, at: 0 }];
}

function isStill(take: Trajectory, from: number, to: number): boolean {
  return take.axes.every((_, axis) => {
    const { low, high } = take.extremes(axis, 0, from, to);
    return low.value === high.value;
  });
}

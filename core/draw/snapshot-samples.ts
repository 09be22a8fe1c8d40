import { rotateByQuat, type Quat } from "../base/quat.ts";
import { firstWhere } from "../base/bisect.ts";
import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { peakOf } from "../motion/peaks.ts";
import type { Order, Side, Trajectory } from "../motion/trajectory.ts";
import { above, niceStep } from "./snapshot-number.ts";

/** Most steps that a move is looked at in. */
const STEPS = 200;

/** How near the highest share of the samples the first one is that stands for it. */
const NEAR = 1 - 1e-5;

/** What is seen of a move at one instant. */
export interface Sample {
  /** Played time [s]. */
  readonly t: number;
  /** Entrance pupil in the set [m]. */
  readonly at: Vec3;
  /** Direction of the view, of length 1. */
  readonly view: Vec3;
  /** Values of the axes in their order [m, rad]. */
  readonly values: readonly number[];
  /** For each axis the shares of its limits of speed, acceleration and jerk; NaN without such a limit. */
  readonly shares: readonly (readonly [number, number, number])[];
}

/** How near an axis comes to one of its limits. */
export interface SnapshotPeak {
  readonly order: Order;
  /** 1 at the limit. */
  readonly share: number;
  /** Played time about which that is first [s], to the step of the samples; absent for a range. */
  readonly t?: number;
}

export interface SnapshotAxis {
  readonly index: number;
  readonly name: string;
  /** In the order range, speed, acceleration, jerk; those without a limit are left out. */
  readonly peaks: readonly SnapshotPeak[];
}

export interface Samples {
  /** One list for each way from key to key, both ends in it. */
  readonly ways: readonly (readonly Sample[])[];
  readonly atKeys: readonly Sample[];
  /** Axes that move. */
  readonly axes: readonly SnapshotAxis[];
}

/** Looks at a move at each key and at times that are the same whatever else of it changes. */
export function* snapshotSamples(trajectory: Trajectory): Task<Samples> {
  const { move, duration } = trajectory;
  const times = move.keys.map(({ time }) => time);
  const ends = times.length > 0 && (times[times.length - 1] ?? 0) < duration ? [...times, duration] : times;
  const step = niceStep(Math.max(duration, 1e-3) / STEPS);
  const ways: Sample[][] = [];
  for (let i = 1; i < ends.length; i++) {
    ways.push(wayBetween(trajectory, ends[i - 1], ends[i], step));
    yield;
  }
  const all = ways.flat();
  const axes = trajectory.axes
    .map(({ name, turntable }, index) => ({ index, name, turntable }))
    .filter(({ index }) => trajectory.sources[index] !== "constant")
    .sort(inChain)
    .map(({ index, name }) => ({ index, name, peaks: peaksOf(trajectory, index, all) }));
  return { ways, atKeys: times.map((t) => sampleAt(trajectory, t, "right")), axes };
}

/** Axes of the rig as they follow each other; then turntables by name, as the order of their fields says nothing. */
function inChain(one: Ordered, other: Ordered): number {
  if (one.turntable < 0 || other.turntable < 0) return one.index - other.index;
  return byUnits(one.name, other.name);
}

interface Ordered {
  readonly index: number;
  readonly name: string;
  readonly turntable: number;
}

/** In the order of their UTF-16 units, whatever the language of a machine. */
export const byUnits = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

/** Both ends, multiples of the step, and both sides of each knot, where the jerk may step. */
function wayBetween(trajectory: Trajectory, from: number, to: number, step: number): Sample[] {
  const isInside = (t: number): boolean => from + step / 1000 < t && t < to - step / 1000;
  const even = Array.from({ length: above((to - from) / step) + 1 }, (_, n) => (above(from / step) + n) * step);
  const all = trajectory.knots;
  const [first, last] = [from, to].map((end) => firstWhere(0, all.length, (i) => all[i] >= end));
  const knots = all.slice(first, last).filter(isInside);
  const isApart = (t: number): boolean => knots.every((knot) => Math.abs(knot - t) > step / 1000);
  const inner = [
    ...even.filter((t) => isInside(t) && isApart(t)).map((t): [number, Side] => [t, "right"]),
    ...knots.flatMap((t): [number, Side][] => [[t, "left"], [t, "right"]]), // prettier-ignore
  ].sort(([one], [other]) => one - other);
  const ends: [number, Side][] = [[from, "right"], ...inner, [to, "left"]];
  return ends.map(([t, side]) => sampleAt(trajectory, t, side));
}

function sampleAt(trajectory: Trajectory, t: number, side: Side): Sample {
  const instant = trajectory.createInstant();
  trajectory.at(t, instant, side);
  const { position, rotation, value, speed, accel, jerk } = instant;
  return {
    t,
    at: [position[0], position[1], position[2]],
    view: rotateByQuat([...rotation] as unknown as Quat, [1, 0, 0]),
    values: [...value],
    shares: trajectory.axes.map(({ limits }, i) => [
      shareOf(speed[i], limits.speed),
      shareOf(accel[i], limits.accel),
      shareOf(jerk[i], limits.jerk),
    ]),
  };
}

const shareOf = (value: number, limit: number | undefined): number =>
  limit === undefined || !(limit > 0) ? Number.NaN : Math.abs(value) / limit;

function peaksOf(trajectory: Trajectory, axis: number, samples: readonly Sample[]): SnapshotPeak[] {
  return ([0, 1, 2, 3] as const).flatMap((order): SnapshotPeak[] => {
    const peak = peakOf(trajectory, axis, order);
    if (!peak) return [];
    if (order === 0) return [{ order, share: peak.share }];
    // The exact peak may be at several times alike, of which rounding would choose one.
    const shares = samples.map((sample) => sample.shares[axis][order - 1]);
    const most = shares.reduce((top, share) => Math.max(top, share), 0);
    const first =
      samples[
        Math.max(
          0,
          shares.findIndex((share) => NEAR * most <= share),
        )
      ];
    return [{ order, share: peak.share, ...(first && { t: first.t }) }];
  });
}

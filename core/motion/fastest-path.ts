import type { AxisLimits } from "../rig/resolved-rig.ts";
import { createRates, type LimitedPath, type PathRates } from "./limited-path.ts";
import { unitOf } from "./path-length.ts";
import type { Trajectory } from "./trajectory.ts";

/**
 * The path of a planned move between two instants, over planned time, of those axes that move there and have a limit. It
 * remembers what it was asked for, as solving an instant takes long.
 */
export interface MovePath extends LimitedPath {
  /** Axis of the move by position in `limits`. */
  readonly axes: readonly number[];
}

/** Travel in units of `unitOf` below which an axis stands. */
const STANDS = 1e-9;

/** Instants of a path that are told apart; nearer ones differ by rounding. */
const STEPS = 2 ** 42;

/** Limits that can bind: more than 0 and finite. */
function bindingLimits({ speed, accel, jerk }: AxisLimits): AxisLimits {
  const kept = (limit: number | undefined): number | undefined =>
    limit !== undefined && 0 < limit && limit < Infinity ? limit : undefined;
  return { speed: kept(speed), accel: kept(accel), jerk: kept(jerk) };
}

/** Axes of a move that have a limit and move between `from` and `to` [s]. */
export function limitedAxes(trajectory: Trajectory, from: number, to: number): number[] {
  return trajectory.axes.flatMap((axis, index) => {
    const unit = unitOf(bindingLimits(axis.limits));
    if (unit === Infinity) return [];
    const { low, high } = trajectory.extremes(index, 0, from, to);
    return STANDS < (high.value - low.value) / unit ? [index] : [];
  });
}

export function pathOfMove(trajectory: Trajectory, from: number, to: number): MovePath {
  const axes = limitedAxes(trajectory, from, to);
  const instant = trajectory.createInstant();
  const known = { left: new Map<number, PathRates>(), right: new Map<number, PathRates>() };
  const perStep = STEPS / (to - from);
  const inner = trajectory.knots.filter((knot) => from < knot && knot < to);
  return {
    axes,
    limits: axes.map((axis) => bindingLimits(trajectory.axes[axis].limits)),
    knots: [from, ...inner, to],
    derive(u, side, out) {
      const name = Math.round((u - from) * perStep);
      let rates = known[side].get(name);
      if (!rates) {
        trajectory.at(u, instant, side);
        known[side].set(name, (rates = createRates(axes.length)));
        axes.forEach((axis, i) => {
          rates!.first[i] = instant.speed[axis];
          rates!.second[i] = instant.accel[axis];
          rates!.third[i] = instant.jerk[axis];
        });
      }
      out.first.set(rates.first);
      out.second.set(rates.second);
      out.third.set(rates.third);
    },
  };
}

/** Share of an axis's unit that its speed and acceleration may be of where it rests. */
const RESTS = 1e-7;

/** Whether all axes are without speed and acceleration at `t` [s], on both sides. */
export function restsAt(trajectory: Trajectory, t: number): boolean {
  const instant = trajectory.createInstant();
  return (["left", "right"] as const).every((side) => {
    trajectory.at(t, instant, side);
    return trajectory.axes.every((axis, i) => {
      const unit = unitOf(bindingLimits(axis.limits));
      const most = RESTS * (unit < Infinity ? unit : 1);
      return Math.abs(instant.speed[i]) <= most && Math.abs(instant.accel[i]) <= most;
    });
  });
}

export interface MovingStretch {
  readonly from: number;
  readonly to: number;
  readonly moves: boolean;
}

/** Stretches from rest to rest within which limited axes move, or none does. */
export function movingStretches(trajectory: Trajectory, from: number, to: number): MovingStretch[] {
  const ends = [from, ...trajectory.knots.filter((knot) => from < knot && knot < to), to];
  const found: { from: number; to: number; moves: boolean }[] = [];
  for (let i = 0; i + 1 < ends.length; i++) {
    const moves = 0 < limitedAxes(trajectory, ends[i], ends[i + 1]).length;
    const last = found[found.length - 1];
    if (last?.moves === moves && !restsAt(trajectory, ends[i])) last.to = ends[i + 1];
    else found.push({ from: ends[i], to: ends[i + 1], moves });
  }
  return found;
}

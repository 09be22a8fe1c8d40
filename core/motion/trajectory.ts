import type { PathNote } from "./path-note.ts";
import type { PlanRecord } from "./plan-record.ts";
import type { MoveAxis, ResolvedMove } from "./resolved-move.ts";
import type { Take } from "./take.ts";

export type SolveStatus = "converged" | "stalled" | "out-of-reach" | "iteration-cap";

/** Which side of a knot a value is taken from where jerk steps. */
export type Side = "left" | "right";

/** Where a moving axis gets its value in this move. */
export type AxisSource = "keyed" | "solved" | "follows" | "constant";

/**
 * Caller-owned room for all that is known at one instant. Shapes: n axes, m targets. Angles rad, lengths m, times s.
 */
export interface Instant {
  t: number;
  /** `converged`, or why the head or chain has no exact solution here; the values are then the nearest found. */
  status: SolveStatus;
  readonly value: Float64Array;
  readonly speed: Float64Array;
  readonly accel: Float64Array;
  readonly jerk: Float64Array;
  /** Entrance pupil in the set [m], shape (3,), and its velocity [m/s]. */
  readonly position: Float64Array;
  readonly velocity: Float64Array;
  /** The pupil in front of the mount flange along the view [m]. */
  pupil: number;
  /** Camera frame in the set, quaternion [x, y, z, w]; sign not made continuous. */
  readonly rotation: Float64Array;
  /** Angular velocity of the camera in the set [rad/s], shape (3,). */
  readonly spin: Float64Array;
  /** Focal length [m], f-number, and focus distance from the sensor plane [m]; focus is NaN when no key gives one. */
  focal: number;
  iris: number;
  focus: number;
  /**
   * What focus goes from and to, and the share of the way that is done, 0..1: targets by index, -1 for the channel of set
   * distances or for no focus. Equal where focus stays on one of them.
   */
  focusFrom: number;
  focusTo: number;
  focusBlend: number;
  /** Speed, acceleration and jerk, shape (3,): of the focal length [m/s …], of the f-number [1/s …], of the focus distance [m/s …]. */
  readonly focalRates: Float64Array;
  readonly irisRates: Float64Array;
  readonly focusRates: Float64Array;
  /** Places of the targets in the set [m], shape (3 m,). */
  readonly targets: Float64Array;
  /** Velocities of the targets in the set [m/s], shape (3 m,). */
  readonly targetVelocity: Float64Array;
  /** Framing of each target in the captured picture, shape (2 m,); NaN behind the camera. */
  readonly framing: Float64Array;
  /** From the pupil [m], shape (m,). */
  readonly distance: Float64Array;
  /** Framing asked for at this instant, shape (2,); NaN when nothing is aimed at. */
  readonly wanted: Float64Array;
  /** Framing where the aimed-at point is, shape (2,); NaN when nothing is aimed at or it is behind the camera. */
  readonly reached: Float64Array;
  /** Targets of the aim: from, to, and the share of the switch done 0..1; -1 for none. */
  aimFrom: number;
  aimTo: number;
  aimBlend: number;
  /** Angle between the view and the pan axis [rad], 0..pi/2; NaN without a head or an aim. */
  poleAngle: number;
}

/** One extreme of one axis over a closed time span. */
export interface Extreme {
  readonly t: number;
  /** Signed value at `t`; Infinity when unbounded. */
  readonly value: number;
  readonly side: Side;
  readonly evidence: "exact" | "bracketed" | "unbounded";
}

/** A stretch of time in which |quantity| is above a limit, or the value outside a range. */
export interface Violation {
  readonly from: number;
  readonly to: number;
  /** Its worst instant. */
  readonly worst: Extreme;
}

/** What became of one key: its axes were given, or solved for a camera point. */
export interface KeyStatus {
  readonly status: SolveStatus;
  /** For `out-of-reach`: nearest pupil position that can be reached [m], the distance [m] and the axes that stop it. */
  readonly nearest?: readonly [number, number, number];
  readonly distance?: number;
  readonly stoppedBy?: readonly number[];
  /**
   * How far the pupil is from the key's camera point [m] although the key has a solution: present where the motion comes
   * to the key on another branch of the aim than the one that the solution needs.
   */
  readonly branchMiss?: number;
  /** The target aimed at, by index, where the pupil is to stand on it: then no view of it exists. */
  readonly onTarget?: number;
}

/** Derivative order of an axis: 0 value, 1 speed, 2 acceleration, 3 jerk. */
export type Order = 0 | 1 | 2 | 3;

/** The motion of one move: evaluable at any time, not a bag of samples. Made by `planTrajectory`. */
export interface Trajectory {
  readonly move: ResolvedMove;
  readonly axes: readonly MoveAxis[];
  /** Source of each axis, by axis index. An axis can be solved in one span and keyed in another: then it is `solved`. */
  readonly sources: readonly AxisSource[];
  /** [s] */
  readonly duration: number;
  /** Times at which some channel has a knot, ascending, first 0, last `duration`. */
  readonly knots: readonly number[];
  readonly keys: readonly KeyStatus[];
  /** What there is to say of paths, in order of time. */
  readonly paths: readonly PathNote[];
  /** Axes that no key gives and nothing solves, by axis index; they rest at 0 or the nearest end of their range. */
  readonly unset: readonly number[];
  /**
   * An object for each interval between `knots`. Where the motion is equal to that of the plan before, it is the same
   * object, so what was looked at once may be kept beside it.
   */
  readonly intervals: readonly object[];
  /** For the plan after an edit, and how much of this plan was taken from the one before. */
  readonly record: PlanRecord;
  /** Room for one instant of this move. */
  createInstant(): Instant;
  /** Writes all that is known at time `t` (clamped to 0..duration) into `out`; allocates nothing. */
  at(t: number, out: Instant, side?: Side): void;
  /** Writes row `row` of a take: the same at `t`, without what a take does not hold; its rows come in ascending order. */
  writeRow(t: number, side: Side, take: Take, row: number): void;
  /** The same without rates, which are NaN in `out`: for looking at poses and pictures alone, twice as fast. */
  poseAt(t: number, out: Instant, side?: Side): void;
  /** Lowest and highest value of the derivative `order` of `axis` over `from`..`to` [s]. */
  extremes(axis: number, order: Order, from?: number, to?: number): { readonly low: Extreme; readonly high: Extreme };
  /**
   * A size that derivative `order` of `axis` does not pass within interval `interval`, and quickly had: it may be more than
   * the largest there is. Infinity where the axis is solved by the pole.
   */
  bound(interval: number, axis: number, order: 1 | 2): number;
  /** Spans in which the derivative of `axis` leaves `low`..`high`. */
  outside(axis: number, order: Order, low: number, high: number): readonly Violation[];
}

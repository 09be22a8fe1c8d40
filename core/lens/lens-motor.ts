import type { OriginId } from "../base/origin-id.ts";
import { monotoneSlopes } from "./monotone-slopes.ts";
import { WIDTH, writeCurves } from "./row-curves.ts";

/** What a motor of a lens sets, each on a scale of its own. */
export const MOTOR_NAMES = ["focus", "iris", "zoom"] as const;
export type MotorName = (typeof MOTOR_NAMES)[number];

/**
 * The angle of a motor over what the lens is set to, counted as `placeOf` counts it: between two rows as `row-curves.ts`
 * has it, beyond the first and the last straight on.
 */
export interface MotorScale {
  /** Ascending, two or more. */
  readonly places: readonly number[];
  /** [rad], strictly ascending or strictly descending, and its slope by place. */
  readonly angles: readonly number[];
  readonly slopes: readonly number[];
}

/** A motor whose scale is known. */
export interface LensMotor {
  readonly name: MotorName;
  /** [rad/s], [rad/s²], [rad/s³]; more than 0. */
  readonly limits: { readonly speed?: number; readonly accel?: number; readonly jerk?: number };
  readonly scale: MotorScale;
  /** Where the text states the scale, and each limit; 0 where it does not. */
  readonly origins: {
    readonly scale: OriginId;
    readonly speed: OriginId;
    readonly accel: OriginId;
    readonly jerk: OriginId;
  };
}

/** What reading a scale writes; the caller's, made once. */
export interface MotorRoom {
  /** Angle [rad], speed [rad/s], acceleration and jerk, shape (4,). */
  readonly angle: Float64Array;
  /** Place on the scale and its rates, shape (4,); the scale's slopes by place, shape (4,). */
  readonly place: Float64Array;
  readonly steps: Float64Array;
  readonly curves: Float64Array;
}

export function createMotorRoom(): MotorRoom {
  return {
    angle: new Float64Array(4),
    place: new Float64Array(4),
    steps: new Float64Array(4),
    curves: new Float64Array(4 * WIDTH),
  };
}

/**
 * The coordinate in which scales of lenses are nearly even: one over the focus distance [1/m] (0 for infinity), natural
 * logarithm of the f-number, focal length [m].
 */
export function placeOf(name: MotorName, value: number): number {
  if (name === "focus") return 1 / value;
  return name === "iris" ? Math.log(value) : value;
}

/** What stands at a place of the scale: the inverse of `placeOf`. */
export function valueAt(name: MotorName, place: number): number {
  if (name === "focus") return 1 / place;
  return name === "iris" ? Math.exp(place) : place;
}

/** @param rows Places ascending, two or more, with strictly rising or strictly falling angles [rad]. */
export function motorScale(rows: readonly { readonly place: number; readonly angle: number }[]): MotorScale {
  const places = rows.map(({ place }) => place);
  const angles = rows.map(({ angle }) => angle);
  return { places, angles, slopes: monotoneSlopes(places, angles) };
}

/**
 * The motor's angle, speed, acceleration and jerk into `room.angle`, by the chain rule. NaN for a value that no lens has: 0,
 * less, or none.
 *
 * @param value Focus distance [m], f-number or focal length [m].
 * @param rates Its first three derivatives in time, shape (3,).
 */
export function writeMotor({ name, scale }: LensMotor, value: number, rates: ArrayLike<number>, room: MotorRoom): void {
  const { angle, place, steps } = room;
  if (!(0 < value)) {
    angle.fill(NaN);
    return;
  }
  place[0] = placeOf(name, value);
  writePlaceSteps(name, value, steps);
  chain(steps, rates[0], rates[1], rates[2], place);
  writeScaleSteps(scale, place[0], room);
  angle[0] = steps[0];
  chain(steps, place[1], place[2], place[3], angle);
}

/** Derivatives 1 to 3 in time of an outer function whose derivatives are `steps`, from those of the inner one. */
function chain(steps: Float64Array, first: number, second: number, third: number, out: Float64Array): void {
  out[1] = steps[1] * first;
  out[2] = steps[2] * first * first + steps[1] * second;
  out[3] = steps[3] * first * first * first + 3 * steps[2] * first * second + steps[1] * third;
}

/** Derivatives 1 to 3 of `placeOf`. */
function writePlaceSteps(name: MotorName, value: number, steps: Float64Array): void {
  if (name === "zoom") {
    steps[1] = 1;
    steps[2] = steps[3] = 0;
    return;
  }
  const per = 1 / value;
  steps[1] = name === "focus" ? -per * per : per;
  steps[2] = (name === "focus" ? -2 : -1) * steps[1] * per;
  steps[3] = (name === "focus" ? -3 : -2) * steps[2] * per;
}

/** The scale's angle at a place and its derivatives 1 to 3 by place. */
function writeScaleSteps({ places, angles, slopes }: MotorScale, place: number, room: MotorRoom): void {
  const { steps, curves } = room;
  const last = places.length - 1;
  const end = place <= places[0] ? 0 : places[last] <= place ? last : -1;
  if (0 <= end) {
    steps[0] = angles[end] + slopes[end] * (place - places[end]);
    steps[1] = slopes[end];
    steps[2] = steps[3] = 0;
    return;
  }
  const row = writeCurves(places, place, 3, curves);
  for (let k = 0; k <= 3; k++) {
    const factorial = k === 3 ? 6 : k === 2 ? 2 : 1;
    const first = angles[row] * curves[k] + slopes[row] * curves[WIDTH + k];
    const second = angles[row + 1] * curves[2 * WIDTH + k] + slopes[row + 1] * curves[3 * WIDTH + k];
    steps[k] = factorial * (first + second);
  }
}

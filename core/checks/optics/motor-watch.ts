import { createMotorRoom, writeMotor, type LensMotor, type MotorName } from "../../lens/lens-motor.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";
import { LIMIT_ORDER, type LimitName } from "../axes/axis-limit.ts";
import type { Watch } from "../scan/scan.ts";
import { FOCUS_SLACK } from "../thresholds.ts";

export const LIMIT_NAMES = Object.keys(LIMIT_ORDER) as LimitName[];

/**
 * What is looked at of each motor: the size of its three rates, how far off its scale it is, its place on it, and the size of
 * that place's three rates.
 */
export const ROWS = 8;
export const OFF_SCALE = 3;
export const PLACE = 4;
export const PLACE_RATES = 5;

/** The motors of a lens that have a limit. */
export const motorsOf = ({ optics }: Pick<ResolvedMove, "optics">): readonly LensMotor[] =>
  (optics.motors ?? []).filter(({ limits }) => LIMIT_NAMES.some((name) => limits[name]));

/** What a motor sets, and its rates, in an instant. */
export function motorInput(name: MotorName, instant: Instant): readonly [number, Float64Array] {
  if (name === "focus") return [instant.focus, instant.focusRates];
  return name === "iris" ? [instant.iris, instant.irisRates] : [instant.focal, instant.focalRates];
}

export const motorRow = (m: number, n: number): string => `motor ${m}, ${n}`;

/**
 * All numbers of all motors, -Infinity where there is none.
 *
 * @param closeFocus [m]
 */
export function motorWatch(motors: readonly LensMotor[], closeFocus: number): Watch {
  const room = createMotorRoom();
  return {
    rows: motors.flatMap((_, m) => Array.from({ length: ROWS }, (_, n) => motorRow(m, n))),
    look: "rates",
    record(instant, out, from) {
      for (let m = 0; m < motors.length; m++) {
        const motor = motors[m];
        const at = from + m * ROWS;
        const [value, rates] = motorInput(motor.name, instant);
        writeMotor(motor, value, rates, room);
        for (let order = 1; order <= 3; order++) {
          out[at + order - 1] = orNone(Math.abs(room.angle[order]));
          out[at + PLACE_RATES + order - 1] = 0 < value ? orNone(Math.abs(room.place[order])) : -Infinity;
        }
        // Nearer than the lens focuses, `focus-near` has the word.
        const isTooNear = motor.name === "focus" && value < closeFocus + FOCUS_SLACK;
        out[at + OFF_SCALE] = isTooNear ? -Infinity : orNone(offScale(motor, room.place[0], value));
        out[at + PLACE] = 0 < value ? room.place[0] : -Infinity;
      }
    },
  };
}

const orNone = (value: number): number => (Number.isNaN(value) ? -Infinity : value);

/** How far a place is beyond the ends of the scale, as a share of its length; negative on it. */
function offScale({ scale: { places } }: LensMotor, place: number, value: number): number {
  if (!(0 < value)) return NaN;
  const last = places[places.length - 1];
  return Math.max(places[0] - place, place - last) / (last - places[0]);
}

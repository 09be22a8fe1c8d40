import type { Task } from "../../../core/base/task.ts";
import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import { LIMIT_ORDER, limitDimension, type LimitName } from "../../../core/checks/axes/axis-limit.ts";
import { comparedFigures } from "../../../core/checks/figures.ts";
import { motorExcess } from "../../../core/checks/optics/motor-rates.ts";
import { createSeen } from "../../../core/checks/seen.ts";
import type { Tolerances } from "../../../core/motion/resolved-move.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";
import { nearsIn } from "./clear-ground.ts";
import { isAlike, meets, OF_SPACE, type Near } from "./near.ts";

/** Keys by position, in between which an outcome is told. */
export interface Between {
  readonly from: number;
  readonly to: number;
}

/** What is so of a finding once it is cured, with its figure where it has one: `pan then reaches 118 deg/s of 120 deg/s`. */
export function* outcomeOf(own: Near, trajectory: Trajectory, between: Between): Task<string> {
  const { keys } = trajectory.move;
  const span = { from: keys[between.from].time, to: keys[between.to].time };
  if (OF_SPACE.has(own.code)) return withCaution(own, yield* spaceOutcome(own, trajectory, span));
  return axisOutcome(own, trajectory, span) ?? (yield* pictureOutcome(own, trajectory, span)) ?? plainOutcome(own);
}

type Time = Near["time"];

/** The figure of an axis or a motor at its highest. */
function axisOutcome(own: Near, trajectory: Trajectory, { from, to }: Time): string | undefined {
  const { code, axis: name } = own;
  if (code === "focus-speed") return motorOutcome(own, trajectory, { from, to });
  const idx = trajectory.axes.findIndex((axis) => axis.name === name);
  if (idx < 0) return undefined;
  const axis = trajectory.axes[idx];
  if (code === "axis-range" && axis.range) {
    const { low, high } = trajectory.extremes(idx, 0, from, to);
    const dimension = axis.type === "linear" ? "length" : "angle";
    const isHigh = own.limit < own.measured;
    const reached = isHigh ? Math.min(high.value, axis.range.high) : Math.max(low.value, axis.range.low);
    const figures = comparedFigures(reached, isHigh ? axis.range.high : axis.range.low, dimension);
    return `${name} then goes to ${figures[0]}, with its end at ${figures[1]}`;
  }
  const limitName = LIMITS[code];
  const limit = limitName && axis.limits[limitName];
  if (limitName === undefined || limit === undefined) return undefined;
  const { low, high } = trajectory.extremes(idx, LIMIT_ORDER[limitName], from, to);
  const highest = Math.min(limit, Math.max(Math.abs(low.value), Math.abs(high.value)));
  const [reached, most] = comparedFigures(highest, limit, limitDimension(axis, limitName));
  return `${name} then reaches ${reached} of ${most}`;
}

const LIMITS: Readonly<Partial<Record<Near["code"], LimitName>>> = {
  "axis-speed": "speed",
  "axis-accel": "accel",
  "axis-jerk": "jerk",
  "aim-spin": "speed",
};

function motorOutcome({ axis, unit }: Near, trajectory: Trajectory, { from, to }: Time): string | undefined {
  if (!unit.includes("/s")) return `${axis} then stays on its scale`;
  const motor = trajectory.move.optics.motors?.find(({ name }) => name === axis);
  const share = motor && motorExcess(trajectory, motor, from, to);
  return share === undefined
    ? undefined
    : `${axis} then uses ${trimmed(100 * Math.min(1, share), 1)} % of what its motor can`;
}

/** So much tighter, a tolerance shows how near to it a cured move stays. */
function tightened(tolerance: Tolerances, { code, limit }: Near): Tolerances {
  if (code === "judder") return { ...tolerance, crossing: limit * 1.5 };
  if (code === "blur" && tolerance.blur !== undefined) return { ...tolerance, blur: tolerance.blur / 2 };
  if (code === "aim-error") return { ...tolerance, aim: tolerance.aim / 8 };
  // [m] Beyond 50 mm more nobody asks how near it is.
  const clearance = limit * 1.5 + 0.05;
  return { ...tolerance, clearance, selfClearance: clearance };
}

/** What is at the limit, to rounding, has not broken it. */
const AT_LIMIT = 1.001;

/** What comes nearest to the limit without breaking it; `undefined` where nothing comes near. */
function* leftOver(own: Near, trajectory: Trajectory, span: Time): Task<Near | undefined> {
  const { move } = trajectory;
  const tight = { ...trajectory, move: { ...move, tolerance: tightened(move.tolerance, own) } };
  // What was seen of the move is measured against tolerances of its own.
  const nears = yield* nearsIn(own, tight, createSeen());
  const isLess = own.code === "judder" || OF_SPACE.has(own.code);
  const kept = nears.filter((near) => isAlike(near, own) && meets(near.time, span));
  const inLimit = kept.filter(({ measured }) =>
    isLess ? own.limit <= measured * AT_LIMIT : measured <= own.limit * AT_LIMIT,
  );
  return inLimit.sort((one, other) => (isLess ? one.measured - other.measured : other.measured - one.measured))[0];
}

function* pictureOutcome(own: Near, trajectory: Trajectory, span: Time): Task<string | undefined> {
  const { code, axis, unit, limit } = own;
  if (code === "judder" && unit.includes("/")) return `${axis} then no longer strobes`;
  if (code !== "judder" && code !== "blur" && code !== "aim-error") return undefined;
  const left = yield* leftOver(own, trajectory, span);
  const dimension = code === "judder" ? "time" : "pixels";
  const [is, most] = [left?.measured, limit].map((value) =>
    value === undefined ? undefined : formatQuantity(value, dimension),
  );
  if (code === "judder") {
    return is === undefined
      ? "nothing then crosses the frame too fast"
      : `nothing then crosses the frame in less than ${is}, where ${most} is the least`;
  }
  const name = code === "blur" ? "the subject then smears" : "the aim is then off";
  if (is !== undefined) return `${name} by ${is} of ${most} allowed`;
  return code === "blur" ? "the subject then smears no more than is allowed" : `${name} by less than is allowed`;
}

function* spaceOutcome(own: Near, trajectory: Trajectory, span: Time): Task<string> {
  const { code, part, target, limit } = own;
  if (code === "in-view") return `${part} is then out of the picture`;
  if (limit <= 0) return `${part} then no longer reaches into ${target}`;
  const left = yield* leftOver(own, trajectory, span);
  // It may be nearer at another key, which is told there.
  if (!left) return `${part} then keeps the clearance of ${formatQuantity(limit, "length")} from ${target} here`;
  const stays = `${left.part} then stays ${formatQuantity(left.measured, "length")}`;
  return code === "floor" ? `${stays} above the floor` : `${stays} from ${target}`;
}

/** Where people are near it is told as what the plan says: no title may sound like leave to go ahead. */
const withCaution = ({ code }: Near, said: string): string =>
  code === "people" ? `${said} as planned, which is no assessment of safety` : said;

/** What is so of findings that have no figure of their own once they are gone. */
function plainOutcome({ code, axis, limit }: Near): string {
  switch (code) {
    case "out-of-reach":
      return "the rig then gets there";
    case "out-of-frame":
      return "the subject is then in the frame";
    case "focus-near":
      return `focus is then nowhere nearer than ${formatQuantity(limit, "length")}`;
    case "soft-subject":
      return "the subject is then in the depth of field";
    case "tip-over":
      return "the plan then keeps the margin asked for, which is no assessment of safety";
    case "aim-spin":
      return `${axis} then no longer spins`;
    case "expect":
      return "what is expected then holds";
    default:
      return axis === undefined ? "the finding is then gone" : `${axis} then stays within its limit`;
  }
}

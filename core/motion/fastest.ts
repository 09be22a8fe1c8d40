import type { Task } from "../base/task.ts";
import { fastestSection, type FastestSection, type TimedPlace } from "./fastest-section.ts";
import { restsAt } from "./fastest-path.ts";
import { refusalOf, type FastestRefusal } from "./fastest-refusal.ts";
import { isRest, leavesAt } from "./key-timing.ts";
import { planTrajectory } from "./plan.ts";
import type { ResolvedMove } from "./resolved-move.ts";
import { between } from "./time-nodes.ts";
import type { Trajectory } from "./trajectory.ts";

/** `timed`; `not-settled`: the limits hold, but the search was cut off before it was sure of the least time. */
export type FastestStatus = "timed" | "not-settled" | FastestRefusal;

/** When the places of a move's path are passed, in order; arrays of one length. */
export interface DenseTiming {
  /** Played time of the move as it is [s]. */
  readonly planned: Float64Array;
  /** Length of the path of the limited axes from the beginning, in units of `path-length.ts`. */
  readonly length: Float64Array;
  /** Played time of the fastest [s]. */
  readonly time: Float64Array;
}

/** The least time in which the path of a move is run through inside the limits of speed, acceleration and jerk. */
export interface FastestTiming {
  readonly status: FastestStatus;
  /** Played time at which each key is reached [s]; the move's own where it is refused. */
  readonly keyTimes: readonly number[];
  /** [s] */
  readonly duration: number;
  /** Least time for speeds and accelerations alone [s]; 0 where the move is refused. Never above `duration`. */
  readonly lowerBound: number;
  /** From rest to rest, in order; holds between them are no sections. */
  readonly sections: readonly FastestSection[];
  readonly path: DenseTiming;
  /** Why it is refused, or what is not as one would expect. */
  readonly reason?: string;
}

/**
 * The fastest timing of a move: the planned path between its rests (first and last key, stops, holds), timed anew. The
 * path is that of all axes as planned; channels that are laid again through the same keys at the new times come close to
 * it, not onto it.
 */
export function* fastestTiming(move: ResolvedMove): Task<FastestTiming> {
  const trajectory = yield* planTrajectory(move);
  return yield* fastestOf(trajectory);
}

/** `fastestTiming` of a move that is planned already. */
export function* fastestOf(trajectory: Trajectory): Task<FastestTiming> {
  const { keys } = trajectory.move;
  const refused = refusalOf(trajectory);
  if (refused) return unchanged(trajectory, refused.status, refused.reason);
  const places: TimedPlace[] = [{ planned: 0, length: 0, time: 0 }];
  const sections: FastestSection[] = [];
  for (let from = 0; from + 1 < keys.length;) {
    const to = nextRest(trajectory, from);
    hold(places, Math.min(leavesAt(keys[from]), keys[to].time) - keys[from].time);
    sections.push(yield* fastestSection(trajectory, from, to, places));
    from = to;
  }
  const last = places[places.length - 1];
  if (sections.every((section) => section.status === "kept")) {
    return unchanged(trajectory, "nothing-limited", "No axis that has a limit moves, so there is nothing to time.");
  }
  if (last.planned < trajectory.duration) hold(places, trajectory.duration - last.planned);
  const path = {
    planned: Float64Array.from(places, (place) => place.planned),
    length: Float64Array.from(places, (place) => place.length),
    time: Float64Array.from(places, (place) => place.time),
  };
  const duration = path.time[path.time.length - 1];
  const won = sections.reduce((sum, section) => sum + section.duration - section.lowerBound, 0);
  const reasons = sections.flatMap(({ reason }) => (reason === undefined ? [] : [reason]));
  return {
    status: sections.some((section) => section.status === "not-settled") ? "not-settled" : "timed",
    keyTimes: keys.map((key) => between(path.planned, path.time, key.time)),
    duration,
    lowerBound: duration - won,
    sections,
    path,
    ...(0 < reasons.length && { reason: reasons.join(" ") }),
  };
}

/** The next key at which everything rests. */
function nextRest(trajectory: Trajectory, from: number): number {
  const { keys } = trajectory.move;
  const found = keys.findIndex((key, i) => from < i && (isRest(key) || restsAt(trajectory, key.time)));
  return found < 0 ? keys.length - 1 : found;
}

/** Time that passes at rest, as planned. */
function hold(places: TimedPlace[], time: number): void {
  const last = places[places.length - 1];
  if (0 < time) places.push({ planned: last.planned + time, length: last.length, time: last.time + time });
}

function unchanged(trajectory: Trajectory, status: FastestRefusal, reason: string): FastestTiming {
  const { duration, move } = trajectory;
  return {
    status,
    keyTimes: move.keys.map((key) => key.time),
    duration,
    lowerBound: 0,
    sections: [],
    path: { planned: Float64Array.of(0, duration), length: Float64Array.of(0, 0), time: Float64Array.of(0, duration) },
    reason,
  };
}

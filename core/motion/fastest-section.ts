import type { Task } from "../base/task.ts";
import { fastestPart, type FastestPart } from "./fastest-part.ts";
import { movingStretches, pathOfMove } from "./fastest-path.ts";
import type { Order, Trajectory } from "./trajectory.ts";

/** A place of a move's path: played time as planned [s], length of path, and played time of the fastest [s]. */
export interface TimedPlace {
  readonly planned: number;
  readonly length: number;
  readonly time: number;
}

/** An axis that is at its limit, and for what share of a section's time (0..1). */
export interface Binding {
  readonly axis: number;
  readonly order: Exclude<Order, 0>;
  readonly share: number;
}

/** A move between two keys at which everything rests. */
export interface FastestSection {
  /** Keys by position. */
  readonly from: number;
  readonly to: number;
  /** `kept`: no axis that has a limit moves, so the planned time stays. */
  readonly status: "timed" | "kept" | "not-settled";
  /** [s] */
  readonly duration: number;
  /** Least time for speeds and accelerations alone [s]. */
  readonly lowerBound: number;
  /** Highest share first; axes that are at a limit for less than 1 % of the time are left out. */
  readonly bindings: readonly Binding[];
  readonly reason?: string;
}

const WORTH_NAMING = 0.01;

/** Times the section between two keys; adds its places to `places`. */
export function* fastestSection(
  trajectory: Trajectory,
  from: number,
  to: number,
  places: TimedPlace[],
): Task<FastestSection> {
  const { keys } = trajectory.move;
  const begin = places[places.length - 1];
  const bound = new Map<number, number>();
  let lowerBound = 0;
  let kept = 0;
  let [timed, settled] = [false, true];
  for (const stretch of movingStretches(trajectory, begin.planned, keys[to].time)) {
    const length = stretch.to - stretch.from;
    if (!stretch.moves) {
      const last = places[places.length - 1];
      if (0 < length) places.push({ planned: stretch.to, length: last.length, time: last.time + length });
      lowerBound += length;
      kept += length;
      continue;
    }
    const path = pathOfMove(trajectory, stretch.from, stretch.to);
    const part = yield* fastestPart(path);
    addPlaces(places, part);
    lowerBound += part.lowerBound;
    timed = true;
    settled &&= part.settled;
    part.bound.forEach((time, i) => {
      const name = 4 * path.axes[Math.floor(i / 3)] + 1 + (i % 3);
      bound.set(name, (bound.get(name) ?? 0) + time);
    });
  }
  const duration = places[places.length - 1].time - begin.time;
  const bindings = [...bound].map(([name, time]): Binding => {
    return { axis: name >> 2, order: (name & 3) as Binding["order"], share: Math.min(1, time / duration) };
  });
  const reason = timed && settled && kept === 0 ? undefined : reasonOf(trajectory, from, to, timed, settled, kept);
  return {
    from,
    to,
    status: !timed ? "kept" : settled ? "timed" : "not-settled",
    duration,
    lowerBound,
    bindings: bindings.filter(({ share }) => WORTH_NAMING <= share).sort((a, b) => b.share - a.share),
    ...(reason !== undefined && { reason }),
  };
}

function addPlaces(places: TimedPlace[], part: FastestPart): void {
  const last = places[places.length - 1];
  for (let i = 1; i < part.times.length; i++) {
    const length = last.length + part.length[i];
    places.push({ planned: part.places[i], length, time: last.time + part.times[i] });
  }
}

function reasonOf(
  { move: { keys } }: Trajectory,
  from: number,
  to: number,
  timed: boolean,
  settled: boolean,
  kept: number,
): string {
  const between = `Between "${keys[from].label}" and "${keys[to].label}"`;
  if (!timed) return `${between} no axis that has a limit moves: the time stays.`;
  if (0 < kept) return `${between} no axis that has a limit moves for ${Number(kept.toFixed(3))} s: that time stays.`;
  return settled ? "" : `${between} the search was cut off: the limits hold, but there may be a shorter time.`;
}

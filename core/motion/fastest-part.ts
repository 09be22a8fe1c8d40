import type { Task } from "../base/task.ts";
import { fastestProfile } from "./fastest-profile.ts";
import { lawLimits } from "./law-limits.ts";
import type { LimitedPath } from "./limited-path.ts";
import { reachableSpeeds } from "./reachable-speeds.ts";
import { evenLaw, lawOfReachable, lawOfSpeed, slowed, type TimeLaw } from "./time-law.ts";
import { between, dividedNodes, sharedNodes } from "./time-nodes.ts";

/** A stretch of a path from rest to rest, timed. */
export interface FastestPart {
  readonly law: TimeLaw;
  /** σ of `path-length.ts` at each node of the law, the first 0. */
  readonly length: Float64Array;
  /** [s] */
  readonly duration: number;
  /** Least time for speeds and accelerations alone [s]; never above `duration`. */
  readonly lowerBound: number;
  /** Time spent at each limit [s], shape (axes, 3): speed, acceleration, jerk. */
  readonly bound: Float64Array;
  /** False when the search was cut off: the limits hold, but it may not be the least time. */
  readonly settled: boolean;
}

/** Stretches that the reachability analysis runs over, first to learn where time is spent. */
const FIRST_LOOK = 200;
const STRETCHES = 800;
/** Stretches of the lower bound for one of the law. */
const DIVIDED = 4;

/**
 * Times a path from rest to rest: least time inside the limits of its axes, measured closely afterwards and slowed down
 * evenly by what is missing, so that no limit is passed.
 *
 * @param path At least one limited axis moves; first and second derivatives vanish at both ends (`restedPath`).
 */
export function* fastestPart(path: LimitedPath): Task<FastestPart> {
  const look = reachableSpeeds(path, sharedNodes(path.knots, FIRST_LOOK));
  const known = { nodes: look.measure.nodes, times: look.times };
  yield;
  let law: TimeLaw;
  let settled = true;
  let reached;
  if (path.limits.some((limit) => limit.jerk !== undefined)) {
    const profile = yield* fastestProfile(path, known);
    law = lawOfSpeed(profile.speed);
    settled = profile.settled;
    reached = reachableSpeeds(path, dividedNodes(law.nodes, DIVIDED));
  } else {
    reached = reachableSpeeds(path, sharedNodes(path.knots, STRETCHES, known));
    law = lawOfReachable(path, reached);
  }
  yield;
  const least = reached.times[reached.times.length - 1];
  const even = evenPart(path, law.nodes);
  let found = lawLimits(path, law);
  law = slowed(law, found.factor);
  if (!(lastOf(law.times) <= lastOf(even.times))) {
    law = even;
    found = lawLimits(path, law);
  }
  const duration = lastOf(law.times);
  return {
    law,
    length: law.nodes.map((u) => between(reached.measure.nodes, reached.measure.length, u)),
    duration,
    lowerBound: Math.min(least, duration),
    bound: found.bound,
    settled,
  };
}

/** Evenly slowed down or sped up until one limit is met. */
function evenPart(path: LimitedPath, nodes: Float64Array): TimeLaw {
  return evenLaw(nodes, lawLimits(path, evenLaw(nodes, 1)).factor);
}

function lastOf(times: Float64Array): number {
  return times[times.length - 1];
}

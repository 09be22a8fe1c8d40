import type { Task } from "../base/task.ts";
import type { AxisLimits } from "../rig/resolved-rig.ts";
import { fastestProfile } from "./fastest-profile.ts";
import { speedLimits } from "./speed-limits.ts";
import { quickStartPath, type LimitedPath } from "./limited-path.ts";
import { reachableSpeeds } from "./reachable-speeds.ts";
import { evenSpeed, slowed, timesAtNodes, type SquaredSpeed } from "./squared-speed.ts";
import { between, dividedNodes, sharedNodes, spacingOf } from "./time-nodes.ts";

/** A path from rest to rest, timed; what is given at nodes has their shape, (n + 1,). */
export interface FastestPart {
  /** The path over the parameter that `speed` is over: the one given, or its quick start. */
  readonly path: LimitedPath;
  readonly speed: SquaredSpeed;
  /** Parameter of the path given, at each node. */
  readonly places: Float64Array;
  /** σ of `path-length.ts` at each node, the first 0. */
  readonly length: Float64Array;
  /** [s], the first 0. */
  readonly times: Float64Array;
  /** [s] */
  readonly duration: number;
  /** Least time for speeds and accelerations alone [s]; never above `duration`. */
  readonly lowerBound: number;
  /** Time spent at each limit [s], shape (axes, 3): speed, acceleration, jerk. */
  readonly bound: Float64Array;
  /** False when the search was cut off: the limits hold, but it may not be the least time. */
  readonly settled: boolean;
}

/** Stretches that the reachability analysis runs over to learn where time is spent. */
const FIRST_LOOK = 100;
/** Stretches of the lower bound for one of the timing. */
const DIVIDED = 4;

/**
 * Times a path from rest to rest: least time inside the limits of its axes, measured closely afterwards and slowed down
 * evenly by what is missing (or sped up by what is left), so that the highest share of a limit is 1.
 *
 * @param given At least one limited axis moves; first and second derivatives vanish at both ends (`restedPath`).
 */
export function* fastestPart(given: LimitedPath): Task<FastestPart> {
  const asks = (order: keyof AxisLimits): boolean => given.limits.some((limit) => limit[order] !== undefined);
  const quick = asks("jerk") ? undefined : quickStartPath(given, asks("accel") ? 2 : 1);
  const path = quick ?? given;
  const look = yield* reachableSpeeds(path, sharedNodes(path.knots, FIRST_LOOK));
  const found = yield* fastestProfile(path, spacingOf(look.measure.nodes, look.times));
  const { nodes } = found.speed;
  const { measure, times: leastTimes } = yield* reachableSpeeds(path, dividedNodes(nodes, DIVIDED));
  let { limits } = found;
  let speed = slowed(found.speed, limits.factor);
  // A move that is at its best as it is must not become slower by what the search is short of.
  const even = evenSpeed(nodes, (yield* speedLimits(path, evenSpeed(nodes, 1))).factor);
  let times = timesAtNodes(speed);
  if (!(lastOf(times) <= lastOf(timesAtNodes(even)))) {
    speed = even;
    times = timesAtNodes(even);
    limits = yield* speedLimits(path, even);
  }
  const duration = lastOf(times);
  return {
    path,
    speed,
    places: quick ? nodes.map((w) => quick.plain(w)) : nodes,
    length: nodes.map((u) => between(measure.nodes, measure.length, u)),
    times,
    duration,
    lowerBound: Math.min(lastOf(leastTimes), duration),
    bound: limits.bound,
    settled: found.settled,
  };
}

function lastOf(times: Float64Array): number {
  return times[times.length - 1];
}

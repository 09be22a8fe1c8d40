import type { Task } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs, type Pair } from "../../space/pairs.ts";
import { createSearch, spansBelow } from "../../space/search.ts";
import { exceedings } from "../scan/scan.ts";
import type { Seen } from "../seen.ts";
import { LIMIT_SLACK, REDUCED_SPEED, SCAN_LEAST, SCAN_STEP, SCAN_TIME } from "../thresholds.ts";
import { bodySpeeds, type BodySpeeds } from "./body-speeds.ts";
import type { PeopleSpace } from "./people-space.ts";

/** A stretch of time in which something near a person is faster than the reduced speed, and its fastest instant. */
export interface FastSpan {
  /** Bodies of the space. */
  readonly person: number;
  readonly body: number;
  /** [s] */
  readonly from: number;
  readonly to: number;
  readonly t: number;
  /** [m/s] */
  readonly speed: number;
}

/** A body that is near a person from `from` to `to` [s]. */
interface NearSpan {
  readonly body: number;
  readonly person: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Where anything of the rig is nearer than `near` [m] to a person and one of its points faster than the reduced speed, of
 * each person in order of time. When it is near is proven between samples; speeds are sampled and refined.
 */
export function* fastSpans(
  { space, people }: PeopleSpace,
  trajectory: Trajectory,
  near: number,
  seen: Seen,
): Task<FastSpan[]> {
  const spans = yield* nearSpans({ space, people }, trajectory, near, seen);
  const speeds = bodySpeeds(trajectory, space);
  const out: FastSpan[] = [];
  for (let person = people; person < space.bodies.length; person++) {
    const own = spans.filter((span) => span.person === person);
    let before: FastSpan | undefined;
    for (const stretch of stretchesOf(own)) {
      for (const span of fastIn(speeds, stretch, person)) {
        if (before && span.from - before.to <= 2 * SCAN_TIME) {
          const worst = before.speed < span.speed ? span : before;
          out[out.length - 1] = before = { ...worst, from: before.from, to: span.to };
        } else out.push((before = span));
      }
      yield;
    }
  }
  return out;
}

/** Every body that is near a person, interval by interval. */
function* nearSpans(
  { space, people }: PeopleSpace,
  trajectory: Trajectory,
  near: number,
  seen: Seen,
): Task<readonly NearSpan[]> {
  const pairs: Pair[] = [];
  for (let a = 0; a < people; a++) {
    if (space.bodies[a].link < 0) continue;
    for (let b = people; b < space.bodies.length; b++) pairs.push({ a, b, group: pairs.length });
  }
  const search = createSearch(space, createPairs(space, pairs), courseOf(trajectory));
  const kept = seen.table<readonly NearSpan[]>(`near people ${near}`);
  const { knots } = search.course;
  const out: NearSpan[] = [];
  for (let k = 0; k + 1 < knots.length; k++) {
    const interval = trajectory.intervals[k] as object | undefined;
    let found = interval && kept.get(interval);
    if (!found) {
      found = spansBelow(search, k, knots[k], knots[k + 1], near).map(({ group, from, to }) => {
        return { body: pairs[group].a, person: pairs[group].b, from, to };
      });
      if (interval) kept.set(interval, found);
    }
    out.push(...found);
    yield;
  }
  return out;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
  readonly bodies: readonly number[];
}

/** Stretches of time within which the same bodies are near. */
function stretchesOf(spans: readonly NearSpan[]): Stretch[] {
  const edges = [...new Set(spans.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b);
  return edges.slice(0, Math.max(1, edges.length - 1)).flatMap((from, i) => {
    const to = edges[Math.min(i + 1, edges.length - 1)];
    const bodies = spans.filter((span) => span.from <= from && to <= span.to).map(({ body }) => body);
    return bodies.length > 0 ? [{ from, to, bodies }] : [];
  });
}

function fastIn(speeds: BodySpeeds, { from, to, bodies }: Stretch, person: number): FastSpan[] {
  const fastestAt = (t: number): { body: number; speed: number } => {
    speeds.look(t);
    let most = { body: bodies[0], speed: -1 };
    for (const body of bodies) {
      const speed = speeds.speedOf(body);
      if (most.speed < speed) most = { body, speed };
    }
    return most;
  };
  const parts = Math.max(SCAN_LEAST, Math.ceil((to - from) / SCAN_STEP));
  const times = Float64Array.from({ length: parts + 1 }, (_, i) => from + ((to - from) * i) / parts);
  const row = times.map((t) => fastestAt(t).speed);
  return exceedings(times, row, REDUCED_SPEED * (1 + LIMIT_SLACK), (t) => fastestAt(t).speed).map((span) => {
    return { person, from: span.from, to: span.to, t: span.worst, ...fastestAt(span.worst) };
  });
}

import type { Task } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { exceedings, partsOf } from "../scan/scan.ts";
import type { Seen } from "../seen.ts";
import { LIMIT_SLACK, REDUCED_SPEED } from "../thresholds.ts";
import { bodySpeeds, type BodySpeeds } from "./body-speeds.ts";
import { nearSpans, type NearSpan } from "./near-spans.ts";
import type { PeopleSpace } from "./people-space.ts";

/** A stretch of time in which something near a person is faster than the reduced speed, and its fastest instant. */
export interface FastSpan extends NearSpan {
  /** [s] */
  readonly t: number;
  /** [m/s] */
  readonly speed: number;
}

const BOUND = REDUCED_SPEED * (1 + LIMIT_SLACK);

/** [s] What is apart by less is told as one: ten times of what crossings are known to. */
const JOINED = 1e-4;

/**
 * Where a part of the rig is nearer than `near` [m] to a person while one of its points is faster than the reduced speed, of
 * each person in order of time. When it is near is proven between samples; speeds are sampled and refined.
 */
export function* fastSpans(
  around: PeopleSpace,
  trajectory: Trajectory,
  near: number,
  seen: Seen,
): Task<readonly FastSpan[]> {
  // A move of a single instant has no interval to be fast in.
  if (!(0 < trajectory.duration)) return [];
  const kept = seen.table<readonly FastSpan[]>(`fast near people ${near}`);
  const nearIn = nearSpans(around, trajectory, near);
  const speeds = bodySpeeds(trajectory, around.space);
  const out: FastSpan[] = [];
  for (const [k, interval] of trajectory.intervals.entries()) {
    const found = kept.get(interval) ?? (yield* fastIn(trajectory, speeds, k, yield* nearIn(k)));
    kept.set(interval, found);
    out.push(...found);
    yield;
  }
  return joined(out);
}

/** All of one interval. */
function* fastIn(
  trajectory: Trajectory,
  speeds: BodySpeeds,
  k: number,
  spans: readonly NearSpan[],
): Task<readonly FastSpan[]> {
  if (spans.length === 0) return [];
  const [from, to] = [trajectory.knots[k], trajectory.knots[k + 1]];
  const parts = partsOf(trajectory, k);
  const even = Array.from({ length: parts + 1 }, (_, i) => (i < parts ? from + ((to - from) * i) / parts : to));
  const times = [...new Set([...even, ...spans.flatMap((span) => [span.from, span.to])])].sort((a, b) => a - b);
  const persons = [...new Set(spans.map(({ person }) => person))];
  const fastest = (person: number, t: number): { readonly body: number; readonly speed: number } => {
    let most = { body: -1, speed: 0 };
    for (const { body, from, to } of spans.filter((span) => span.person === person)) {
      if (t < from || to < t) continue;
      const speed = speeds.speedOf(body, most.speed);
      if (most.speed < speed) most = { body, speed };
    }
    return most;
  };
  const rows = persons.map(() => new Float64Array(times.length));
  for (const [i, t] of times.entries()) {
    speeds.look(t);
    persons.forEach((person, n) => (rows[n][i] = fastest(person, t).speed));
    if (i % 256 === 255) yield;
  }
  const lookAt = (person: number, t: number): ReturnType<typeof fastest> => {
    speeds.look(t);
    return fastest(person, t);
  };
  const out: FastSpan[] = [];
  for (const [n, person] of persons.entries()) {
    const speedAt = (t: number): number => lookAt(person, t).speed;
    for (const { from, to, worst } of yield* exceedings(Float64Array.from(times), rows[n], BOUND, speedAt)) {
      out.push({ person, from, to, t: worst, ...lookAt(person, worst) });
    }
  }
  return out;
}

/** What goes on over a knot, or is left for no time, as one with what is fastest in it. */
function joined(spans: readonly FastSpan[]): FastSpan[] {
  const out: FastSpan[] = [];
  for (const span of [...spans].sort((a, b) => a.person - b.person || a.from - b.from)) {
    const before = out[out.length - 1] as FastSpan | undefined;
    if (before?.person === span.person && span.from <= before.to + JOINED) {
      const worst = before.speed < span.speed ? span : before;
      out[out.length - 1] = { ...worst, from: before.from, to: Math.max(before.to, span.to) };
    } else out.push(span);
  }
  return out;
}

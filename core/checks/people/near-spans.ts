import type { Task } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs, type Pair } from "../../space/pairs.ts";
import { createSearch, spansBelow } from "../../space/search.ts";
import type { PeopleSpace } from "./people-space.ts";

/** A moving part of the rig that is near a person, both as bodies of the space, from `from` to `to` [s]. */
export interface NearSpan {
  readonly body: number;
  readonly person: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Looks for what is nearer than `near` [m] to a person, interval by interval of a trajectory. Outside of the spans nothing
 * is, between samples too, to 1e-5 s.
 */
export function nearSpans(
  { space, people }: PeopleSpace,
  trajectory: Trajectory,
  near: number,
): (interval: number) => Task<readonly NearSpan[]> {
  const pairs: Pair[] = [];
  for (let a = 0; a < people; a++) {
    for (let b = people; b < space.bodies.length; b++) pairs.push({ a, b, group: pairs.length });
  }
  const search = createSearch(space, createPairs(space, pairs), courseOf(trajectory));
  const { knots } = search.course;
  return function* (k) {
    const spans = yield* spansBelow(search, k, knots[k], knots[k + 1], near);
    return spans.map(({ group, from, to }) => ({ body: pairs[group].a, person: pairs[group].b, from, to }));
  };
}

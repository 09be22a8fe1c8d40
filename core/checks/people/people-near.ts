import type { Task } from "../../base/task.ts";
import { approaches, type Approach } from "../../space/approaches.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs, type Pair } from "../../space/pairs.ts";
import { createSearch } from "../../space/search.ts";
import { keyAt } from "../anchor.ts";
import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import type { PeopleSpace } from "./people-space.ts";

/** [m] Nearer than the clearance by less than this is rounding. */
const SLACK = 1e-6;

/** People nearer to anything of the rig than the clearance, or in what it sweeps: one finding a person and stretch of time. */
export function* peopleNear(context: CheckContext, { space, people }: PeopleSpace): Task<readonly Finding[]> {
  const { move, trajectory, seen } = context;
  const bound = move.tolerance.clearance - SLACK;
  const pairs: Pair[] = [];
  for (let b = people; b < space.bodies.length; b++) {
    for (let a = 0; a < people; a++) pairs.push({ a, b, group: b - people });
  }
  const search = createSearch(space, createPairs(space, pairs), courseOf(trajectory));
  const kept = seen.table<readonly Approach[]>(`people ${bound}`);
  const found = yield* approaches(search, bound, (interval, find) => {
    const key = trajectory.intervals[interval] as object | undefined;
    const known = (key && kept.get(key)) ?? find();
    if (key) kept.set(key, known);
    return known;
  });
  return found.map((approach) => nearFinding(context, { space, people }, approach));
}

function nearFinding({ move }: CheckContext, { space }: PeopleSpace, approach: Approach): Finding {
  const [part, person] = [space.bodies[approach.a], space.bodies[approach.b]];
  const anchor = keyAt(move, [...move.keys.keys()], approach.t);
  return {
    code: "people",
    severity: "error",
    origin: anchor.origin,
    related: [
      { origin: person.origin, note: "target" },
      { origin: move.toleranceOrigin, note: "tolerance" },
    ],
    key: move.keys[anchor.key].label,
    time: { from: approach.from, to: approach.to },
    peak: approach.t,
    measured: approach.distance,
    limit: move.tolerance.clearance,
    dimension: "length",
    evidence: "bracketed",
    facts: { what: "near", part: part.name, person: person.name, target: person.name },
    segment: { from: approach.onA, to: approach.onB },
  };
}

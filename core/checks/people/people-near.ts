import type { Task } from "../../base/task.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs, type Pair } from "../../space/pairs.ts";
import { createSearch, type Search } from "../../space/search.ts";
import type { CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { approachFinding } from "../space/approach-finding.ts";
import { keptApproaches } from "../space/keep-approaches.ts";
import type { PeopleSpace } from "./people-space.ts";

/** People nearer to anything of the rig than the clearance, or in what it sweeps: one finding a person and stretch of time. */
export function* peopleNear(context: CheckContext, among: PeopleSpace): Task<readonly Finding[]> {
  const limit = context.move.tolerance.clearance;
  const { space } = among;
  const search = peopleSearch(context, among);
  const found = yield* keptApproaches(context, search, limit, "people");
  return found.map((approach) => {
    const finding = approachFinding(context, "people", space, approach, limit);
    return { ...finding, facts: { ...finding.facts, what: "near" } };
  });
}

/** All that the rig drives against people, one group a person. */
export function peopleSearch({ trajectory }: Pick<CheckContext, "trajectory">, { space, people }: PeopleSpace): Search {
  const pairs: Pair[] = [];
  for (let b = people; b < space.bodies.length; b++) {
    for (let a = 0; a < people; a++) pairs.push({ a, b, group: b - people });
  }
  return createSearch(space, createPairs(space, pairs), courseOf(trajectory));
}

import type { Task } from "../../base/task.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs, type Pair } from "../../space/pairs.ts";
import { createSearch, type Search } from "../../space/search.ts";
import { createSpace } from "../../space/space.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { approachFinding } from "./approach-finding.ts";
import { keptApproaches } from "./keep-approaches.ts";
import { keptBodies } from "./kept-bodies.ts";

/**
 * `clearance`: no part of the rig or the camera nearer to anything in the set than the tolerance, between keys too. What
 * stands on the base stands beside what stands in the set for good: it may not reach into that.
 */
export const clearance: Check = {
  code: "clearance",
  *run(context): Task<readonly Finding[]> {
    const { clearance: limit } = context.move.tolerance;
    const moving = clearanceSearch(context, "moving");
    const standing = clearanceSearch(context, "standing");
    return [
      ...(moving ? yield* findingsOf(context, moving, limit, "clearance") : []),
      ...(standing ? yield* findingsOf(context, standing, 0, "clearance of what stands") : []),
    ];
  },
};

function* findingsOf(context: CheckContext, search: Search, limit: number, name: string): Task<readonly Finding[]> {
  const found = yield* keptApproaches(context, search, limit, name);
  return found.map((approach) => approachFinding(context, "clearance", search.look.space, approach, limit));
}

/**
 * Rig, camera, lens and attachments against what stands in the set, one group for each thing that stands there: pairs of
 * which one moves, or those that both stand. `undefined` where there are none.
 */
export function clearanceSearch(
  context: Pick<CheckContext, "move" | "trajectory" | "seen">,
  which: "moving" | "standing",
): Search | undefined {
  const { move, trajectory } = context;
  const { rig, obstacles } = keptBodies(context);
  const pairs = obstacles.flatMap(({ table }, group): Pair[] =>
    rig.flatMap(({ link }, a) => {
      const isStanding = link < 0 && table < 0;
      return isStanding === (which === "standing") ? [{ a, b: rig.length + group, group }] : [];
    }),
  );
  if (pairs.length === 0) return undefined;
  const space = createSpace(move, [...rig, ...obstacles]);
  return createSearch(space, createPairs(space, pairs), courseOf(trajectory));
}

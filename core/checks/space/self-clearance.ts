import type { Task } from "../../base/task.ts";
import { courseOf } from "../../space/course.ts";
import { createPairs, type Pair } from "../../space/pairs.ts";
import { createSearch } from "../../space/search.ts";
import { createSpace, type Space } from "../../space/space.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { approachFinding } from "./approach-finding.ts";
import { keptApproaches } from "./keep-approaches.ts";
import { keptBodies } from "./kept-bodies.ts";
import { ownPairs, type OwnPairs } from "./own-pairs.ts";

/** [m] Between parts of one rig where nothing is stated (common practice, no source). */
const OWN_CLEARANCE = 0.01;

/** `self-clearance`: no two parts of the rig and the camera come nearer to each other than their own tolerance. */
export const selfClearance: Check = {
  code: "self-clearance",
  *run(context): Task<readonly Finding[]> {
    const { space, limit, apart, close } = ownSpace(context);
    return [
      ...(yield* findingsOf(context, space, apart, limit, "self-clearance")),
      // Which parts are close hangs on the limit too.
      ...(yield* findingsOf(context, space, close, 0, `self-clearance below ${limit}`)),
    ];
  },
};

/** The rig's own bodies and which pairs of them are looked at; `limit` [m] is what those that are `apart` keep. */
export function ownSpace(
  context: Pick<CheckContext, "move" | "seen">,
): OwnPairs & { readonly space: Space; readonly limit: number } {
  const { move } = context;
  const { rig } = keptBodies(context);
  const limit = move.tolerance.selfClearance ?? OWN_CLEARANCE;
  const space = createSpace(move, rig);
  return { space, limit, ...ownPairs(move, space, limit) };
}

function* findingsOf(
  context: CheckContext,
  space: Space,
  pairs: readonly Pair[],
  limit: number,
  name: string,
): Task<readonly Finding[]> {
  if (pairs.length === 0) return [];
  const search = createSearch(space, createPairs(space, pairs), courseOf(context.trajectory));
  const found = yield* keptApproaches(context, search, limit, name);
  return found.map((approach) => approachFinding(context, "self-clearance", space, approach, limit));
}

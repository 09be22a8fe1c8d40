import type { Task } from "../../base/task.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Approach } from "../../space/approaches.ts";
import { courseOf } from "../../space/course.ts";
import { createPairRoom, createPairs, FLOOR, measurePair, type Pair } from "../../space/pairs.ts";
import { createSearch, placeAt, type Search } from "../../space/search.ts";
import { createSpace } from "../../space/space.ts";
import type { Check, CheckContext } from "../check.ts";
import type { Finding } from "../finding.ts";
import { approachFinding } from "./approach-finding.ts";
import { CLEARANCE_SLACK, keptApproaches } from "./keep-approaches.ts";
import { keptBodies } from "./kept-bodies.ts";
import { levelLinks } from "./level-links.ts";

/**
 * `floor`: nothing that goes up and down in the take comes nearer to the floor than the tolerance, and nothing that keeps its
 * height over the base, such as wheels, reaches below the floor that the base stands on.
 */
export const floor: Check = {
  code: "floor",
  *run(context): Task<readonly Finding[]> {
    return [...(yield* nearFloor(context)), ...belowBase(context)];
  },
};

function* nearFloor(context: CheckContext): Task<readonly Finding[]> {
  const search = floorSearch(context);
  const limit = context.move.tolerance.clearance;
  const found = yield* keptApproaches(context, search, limit, "floor");
  return found.map((approach) => approachFinding(context, "floor", search.look.space, approach, limit));
}

/** All that goes up and down in the take against the floor, in one group; there may be no such pair. */
export function floorSearch(context: Pick<CheckContext, "move" | "trajectory" | "seen">): Search {
  const { move, trajectory } = context;
  const { rig } = keptBodies(context);
  const isLevel = levelLinks(move);
  const space = createSpace(move, rig);
  const pairs = rig.flatMap(({ link }, a): Pair[] => (link < 0 || isLevel[link] ? [] : [{ a, b: FLOOR, group: 0 }]));
  return createSearch(space, createPairs(space, pairs, move.floor), courseOf(trajectory));
}

/** What keeps its height stands on a floor that leans as the base does; what the base itself carries stands as it was put. */
function belowBase(context: CheckContext): readonly Finding[] {
  const { move, trajectory } = context;
  const upright: ResolvedMove = { ...move, base: { ...move.base, lean: [0, 0] } };
  const { rig } = keptBodies(context);
  const isLevel = levelLinks(move);
  const space = createSpace(upright, rig);
  const pairs = rig.flatMap(({ link }, a): Pair[] => (0 <= link && isLevel[link] ? [{ a, b: FLOOR, group: a }] : []));
  const search = createSearch(space, createPairs(space, pairs, move.base.floor), courseOf(trajectory));
  const placed = placeAt(search, 0, "right", 0);
  const room = createPairRoom();
  return pairs.flatMap(({ a }, idx) => {
    const distance = measurePair(space, search.look.pairs, idx, placed, room);
    if (-CLEARANCE_SLACK <= distance) return [];
    const [onA, onB] = [room.gap.from, room.gap.to].map(([x, y, z]) => [x, y, z] as const);
    const approach: Approach = { group: a, from: 0, to: trajectory.duration, a, b: FLOOR, t: 0, distance, onA, onB };
    return [approachFinding(context, "floor", space, approach, 0)];
  });
}

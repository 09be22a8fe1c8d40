import type { OriginId } from "../../../core/base/origin-id.ts";
import type { Task } from "../../../core/base/task.ts";
import { keptBodies } from "../../../core/checks/space/kept-bodies.ts";
import { createSeen } from "../../../core/checks/seen.ts";
import { leastApproach } from "../../../core/space/approaches.ts";
import { courseOf } from "../../../core/space/course.ts";
import { createPairs, type Pair } from "../../../core/space/pairs.ts";
import { createSearch } from "../../../core/space/search.ts";
import { createSpace } from "../../../core/space/space.ts";
import type { Solved } from "../view.ts";

/** The least distance over a move of a body from what stands in the set, or of that from the rig. */
export interface LeastDistance {
  /** What it is measured to, by name. */
  readonly to: string;
  /** [s], [m]; below 0 where the two overlap. */
  readonly t: number;
  readonly distance: number;
}

/**
 * Looks for the least distance of the body that is stated at `origin`: of the rig and the camera from what stands in the set,
 * or the other way round. Proven between keys too. `undefined` where there is nothing to measure to.
 */
export function* leastDistance({ move, trajectory }: Solved, origin: OriginId): Task<LeastDistance | undefined> {
  const { rig, obstacles } = keptBodies({ move, seen: createSeen() });
  const wanted = (one: { readonly origin: OriginId }): boolean => one.origin === origin;
  const ofRig = rig.some(wanted);
  const pairs = rig.flatMap((part, a): Pair[] =>
    obstacles.flatMap((other, idx): Pair[] => {
      const counts = ofRig ? wanted(part) : wanted(other);
      const isMoving = part.link >= 0 || other.table >= 0;
      return counts && isMoving ? [{ a, b: rig.length + idx, group: 0 }] : [];
    }),
  );
  if (pairs.length === 0) return undefined;
  const space = createSpace(move, [...rig, ...obstacles]);
  const search = createSearch(space, createPairs(space, pairs), courseOf(trajectory));
  const least = yield* leastApproach(search, 0, trajectory.duration);
  if (!least) return undefined;
  const to = space.bodies[ofRig ? least.b : least.a].name;
  return { to, t: least.t, distance: least.distance };
}

import type { Task } from "../../base/task.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { courseOf } from "../../space/course.ts";
import { distanceCurve } from "../../space/distance-curve.ts";
import { createPairs, FLOOR } from "../../space/pairs.ts";
import { createSearch, type Search } from "../../space/search.ts";
import { peopleSearch } from "../people/people-near.ts";
import { peopleSpace } from "../people/people-space.ts";
import { createSeen } from "../seen.ts";
import { clearanceSearch } from "./clearance.ts";
import { floorSearch } from "./floor.ts";
import { keptBodies } from "./kept-bodies.ts";
import { ownSpace } from "./self-clearance.ts";

/** How near the rig and its camera come over time to one kind of thing. */
export interface ClearanceCurve {
  readonly to: "set" | "people" | "floor" | "itself";
  /** Least distance that the move asks for [m]. */
  readonly limit: number;
  /** Ascending [s], and the least distance then [m], below 0 by how much two things overlap; shape (n,). */
  readonly t: Float64Array;
  readonly distance: Float64Array;
  /** Which two things are the nearest: index into `pairs`, shape (n,). */
  readonly nearest: Int32Array;
  readonly pairs: readonly { readonly part: string; readonly target: string }[];
}

/**
 * What the checks of space look at, over time; kinds that there is nothing of are left out. Parts that stand close by
 * themselves are no pair of `itself`, and what keeps its height no pair of `floor`: see the checks.
 *
 * @param times Ascending [s]. With the peaks of the checks' findings among them, no curve is lowest elsewhere than they say.
 */
export function* clearanceCurves(trajectory: Trajectory, times: Float64Array): Task<readonly ClearanceCurve[]> {
  const { move } = trajectory;
  const context = { move, trajectory, seen: createSeen() };
  const { clearance: limit } = move.tolerance;
  const people = peopleSpace(move, keptBodies(context));
  const own = ownSpace(context);
  const ownSearch = createSearch(own.space, createPairs(own.space, own.apart), courseOf(trajectory));
  const kinds: readonly (readonly [ClearanceCurve["to"], Search | undefined, number])[] = [
    ["set", clearanceSearch(context, "moving"), limit],
    ["people", people && peopleSearch(context, people), limit],
    ["floor", floorSearch(context), limit],
    ["itself", ownSearch, own.limit],
  ];
  const out: ClearanceCurve[] = [];
  for (const [to, search, least] of kinds) {
    const curve = search && (yield* distanceCurve(search, times));
    if (curve) out.push({ to, limit: least, t: curve.t, distance: curve.distance, ...namesOf(search, curve.pair) });
  }
  return out;
}

function namesOf({ look: { space, pairs } }: Search, met: Int32Array): Pick<ClearanceCurve, "nearest" | "pairs"> {
  const distinct = [...new Set(met)];
  const nameOf = (idx: number): string => (idx === FLOOR ? "the floor" : space.bodies[idx].name);
  return {
    nearest: met.map((pair) => distinct.indexOf(pair)),
    pairs: distinct.map((pair) => ({ part: nameOf(pairs.a[pair]), target: nameOf(pairs.b[pair]) })),
  };
}

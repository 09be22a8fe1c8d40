import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { bodiesOfMove, type MoveBodies } from "../../space/moving-bodies.ts";
import { createSpace, type Space } from "../../space/space.ts";

/**
 * What the rig drives, its camera too, among people. Bodies `0 .. people - 1` are the rig's, those from `people` on are
 * people. What stands all the while, as rails and legs do, sweeps nothing: people work beside it.
 */
export interface PeopleSpace {
  readonly space: Space;
  /** Index of the first person. */
  readonly people: number;
}

/** `undefined` in a set without people. */
export function peopleSpace(
  move: ResolvedMove,
  { rig, people }: MoveBodies = bodiesOfMove(move),
): PeopleSpace | undefined {
  if (people.length === 0) return undefined;
  const driven = rig.filter(({ link }) => isDriven(move, link));
  return { space: createSpace(move, [...driven, ...people]), people: driven.length };
}

/** True for a link that some axis moves in a take. */
function isDriven({ rig }: ResolvedMove, link: number): boolean {
  return rig.joints.slice(0, link + 1).some(({ role }) => role === "driven" || role === "follows");
}

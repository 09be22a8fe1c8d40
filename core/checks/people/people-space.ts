import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { bodiesOfMove } from "../../space/moving-bodies.ts";
import { createSpace, type Space } from "../../space/space.ts";

/** The rig with its camera among people. Bodies `0 .. people - 1` are the rig's, those from `people` on are people. */
export interface PeopleSpace {
  readonly space: Space;
  /** Index of the first person. */
  readonly people: number;
}

/** `undefined` in a set without people. */
export function peopleSpace(move: ResolvedMove): PeopleSpace | undefined {
  const { rig, people } = bodiesOfMove(move);
  return people.length === 0 ? undefined : { space: createSpace(move, [...rig, ...people]), people: rig.length };
}

import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { convexOfPoints } from "../../solid/convex.ts";
import { bodiesOfMove } from "../../space/moving-bodies.ts";
import { createSpace, type Space } from "../../space/space.ts";
import { spaceBody, type SpaceBody } from "../../space/space-body.ts";

/** The rig with its camera among people. Bodies `0 .. people - 1` are the rig's, those from `people` on are people. */
export interface PeopleSpace {
  readonly space: Space;
  /** Index of the first person. */
  readonly people: number;
}

/** `undefined` in a set without people. */
export function peopleSpace(move: ResolvedMove): PeopleSpace | undefined {
  const { rig, people } = bodiesOfMove(move);
  if (people.length === 0) return undefined;
  const own = [...rig, cameraLine(move)];
  return { space: createSpace(move, [...own, ...people]), people: own.length };
}

/** The camera itself, whatever else is stated of its size: from the sensor plane to the farthest entrance pupil. */
function cameraLine({ rig, optics }: ResolvedMove): SpaceBody {
  const { focal, near, nodes } = optics.pupil;
  const pupils = Array.from({ length: focal.length * near.length }, (_, i) => nodes[4 * i]);
  const facts = { name: "the camera", part: "lens", link: rig.joints.length - 1, table: -1 } as const;
  const line = convexOfPoints([-optics.flange, 0, 0, Math.max(0, ...pupils), 0, 0]);
  return spaceBody({ ...facts, origin: optics.origin }, line, rig.mount);
}

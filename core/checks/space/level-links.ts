import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { restValues } from "../../motion/axis-values.ts";
import { createPlaced, createSpace, placeBodies } from "../../space/space.ts";

/** Sine of an angle that counts as none. */
const LEVEL = 1e-9;

/**
 * Links that keep their height over the base in the take: every driven or following axis before them slides level or turns
 * about an upright axis. What is set before the take does not move in it. Shape (joints,).
 */
export function levelLinks(move: ResolvedMove): readonly boolean[] {
  const space = createSpace({ ...move, base: { x: 0, y: 0, floor: 0, heading: 0, lean: [0, 0] } }, []);
  const placed = createPlaced(space);
  placed.values.set(restValues(move));
  placeBodies(space, placed);
  const { rotations } = placed.pose;
  let isLevel = true;
  return move.rig.joints.map(({ type, role, along: [x, y, z] }, joint) => {
    const up = Math.abs(rotations[9 * joint + 6] * x + rotations[9 * joint + 7] * y + rotations[9 * joint + 8] * z);
    const moves = role === "driven" || role === "follows";
    if (moves && (type === "linear" ? LEVEL < up : type === "rotary" && up < 1 - LEVEL)) isLevel = false;
    return isLevel;
  });
}

import { restValues } from "../../motion/axis-values.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { convexOfPoints } from "../../solid/convex.ts";
import { measureGap, type Gap } from "../../solid/gap.ts";
import { createPairRoom, createPairs, measurePair, type Pair, type PairRoom } from "../../space/pairs.ts";
import { createPlaced, placeBodies, type Placed, type Space } from "../../space/space.ts";

/** [m] Nearer than this at rest, two bodies are built to touch: outlines are drawn to the millimetre at best. */
const BUILT_TO_TOUCH = 1e-3;

/** [m] Far enough along a turning axis to either side to meet every part of its hinge. */
const HINGE = 2;

/** Pairs of the rig's own bodies: those that keep the clearance, and those that stand nearer at rest, which may not meet. */
export interface OwnPairs {
  readonly apart: readonly Pair[];
  readonly close: readonly Pair[];
}

/**
 * Which of a rig's bodies are checked against each other. Not checked are those that nothing moves against each other in the
 * take; those that touch while every axis is at 0 or the nearest end of its range; both sides of a turning axis where both
 * reach that axis, a hinge; and what the rig states under `touching`.
 *
 * @param limit [m] What pairs keep that are at least this far apart at rest.
 */
export function ownPairs(move: ResolvedMove, space: Space, limit: number): OwnPairs {
  const rest = createPlaced(space);
  rest.values.set(restValues(move));
  placeBodies(space, rest);
  const { bodies } = space;
  const all: Pair[] = [];
  const room = createPairRoom();
  for (let a = 0; a < bodies.length; a++) {
    for (let b = a + 1; b < bodies.length; b++) {
      if (isChecked(move, space, rest, a, b, room)) all.push({ a, b, group: all.length });
    }
  }
  const pairs = createPairs(space, all);
  const gaps = all.map((_, idx) => measurePair(space, pairs, idx, rest, room, limit, "unknown"));
  const grouped = (list: readonly Pair[]): Pair[] => list.map((pair, group) => ({ ...pair, group }));
  return {
    apart: grouped(all.filter((_, idx) => limit <= gaps[idx])),
    close: grouped(all.filter((_, idx) => BUILT_TO_TOUCH <= gaps[idx] && gaps[idx] < limit)),
  };
}

function isChecked(move: ResolvedMove, space: Space, rest: Placed, a: number, b: number, { gap }: PairRoom): boolean {
  const { bodies } = space;
  const low = Math.min(bodies[a].link, bodies[b].link) + 1;
  const high = Math.max(bodies[a].link, bodies[b].link);
  const between = move.rig.joints.slice(low, high + 1);
  if (!between.some(({ role }) => role === "driven" || role === "follows")) return false;
  const named = [bodies[a].name, bodies[b].name];
  if (move.rig.touching?.some((pair) => pair.every((name) => named.includes(name)))) return false;
  const turning = between.flatMap(({ type }, idx) => (type === "fixed" ? [] : [{ joint: low + idx, type }]));
  if (turning.length !== 1 || turning[0].type !== "rotary") return true;
  const [{ joint }] = turning;
  return !(reachesAxis(space, rest, a, joint, gap) && reachesAxis(space, rest, b, joint, gap));
}

/** True for a body that the axis of a joint goes through. */
function reachesAxis({ chain, bodies }: Space, rest: Placed, idx: number, joint: number, gap: Gap): boolean {
  const { rotations, positions } = rest.pose;
  const [x, y, z] = [0, 1, 2].map((k) => HINGE * chain.along[3 * joint + k]);
  measureGap(
    bodies[idx].convex,
    rest.rotations[idx],
    rest.positions[idx],
    convexOfPoints([x, y, z, -x, -y, -z]),
    rotations.subarray(9 * joint, 9 * joint + 9),
    positions.subarray(3 * joint, 3 * joint + 3),
    gap,
    BUILT_TO_TOUCH,
    "unknown",
  );
  return gap.distance < BUILT_TO_TOUCH;
}

import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { bodiesOfMove, type MoveBodies } from "../../space/moving-bodies.ts";
import type { CheckContext } from "../check.ts";

type Holding = Pick<ResolvedMove, "rig" | "optics" | "obstacles" | "people">;

/** The bodies of a move: those of before an edit that changed neither rig, camera nor set. */
export function keptBodies({ move, seen }: Pick<CheckContext, "move" | "seen">): MoveBodies {
  const table = seen.table<{ readonly of: Holding; readonly bodies: MoveBodies }>("bodies");
  const known = table.get(move.rig);
  if (known && isSame(known.of, move)) return known.bodies;
  const bodies = bodiesOfMove(move);
  const { rig, optics, obstacles, people } = move;
  table.set(rig, { of: { rig, optics, obstacles, people }, bodies });
  return bodies;
}

const isSame = (a: Holding, b: Holding): boolean =>
  a.rig === b.rig && a.optics === b.optics && a.obstacles === b.obstacles && a.people === b.people;

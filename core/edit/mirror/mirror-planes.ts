import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { isSamePlane, planeAlong, type Plane } from "./mirror-plane.ts";

/** A plane in which a move may be mirrored, with the words that tell it from others. */
export interface NamedPlane {
  readonly id: string;
  readonly words: string;
  readonly plane: Plane;
}

/** Planes nearer to a point than this have no direction through it [m]. */
const LEAST = 1e-3;

/**
 * Upright planes that make sense for a move: the middle of the rig, the one from the base to the first target that stands
 * still, and the one through that target into the set. Each once.
 */
export function mirrorPlanes({ base, keys, targets }: ResolvedMove): readonly NamedPlane[] {
  const { x, y, heading } = base;
  const middle = planeAlong([x, y], [Math.cos(heading), Math.sin(heading)]);
  const named: NamedPlane[] = [{ id: "base", words: "the middle of the rig's base, along its heading", plane: middle }];
  const aimed = keys.flatMap(({ aim, focus }) =>
    [aim, focus].flatMap((one) => (one?.kind === "target" ? [one.target] : [])),
  );
  const target = targets[aimed.find((one) => !targets[one].follow) ?? -1];
  if (target && target.on === undefined) {
    const [tx, ty] = target.at;
    if (LEAST < Math.hypot(tx - x, ty - y)) {
      const words = `the upright plane through the base and \`${target.name}\``;
      named.push({ id: "target", words, plane: planeAlong([x, y], [tx - x, ty - y]) });
    }
    const words = `the upright plane through \`${target.name}\` along x`;
    named.push({ id: "set", words, plane: planeAlong([tx, ty], [1, 0]) });
  }
  return named.filter(({ plane }, i) => named.findIndex((other) => isSamePlane(other.plane, plane)) === i);
}

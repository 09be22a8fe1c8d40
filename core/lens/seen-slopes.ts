import { unproject } from "./project.ts";
import type { ResolvedOptics } from "./resolved-optics.ts";

/** What a plain picture must reach so that the lens's own can be made from it: slopes x right, y down, at 1 m. */
export interface Slopes {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Points along an edge of the frame at which a distorted lens is asked how far it sees. */
const EDGE_STEPS = 24;
/** A lens that sees farther to the side than this is cut there (86.4° off the axis). */
const STEEPEST = 16;

/** Slopes of a lens without distortion at the edges of its frame: an off-axis frustum. */
export function plainSlopes(optics: ResolvedOptics, focal: number): Slopes {
  const across = (share: number): number =>
    ((share - 0.5 - optics.centre[0]) * optics.squeeze * optics.sensor[0]) / focal;
  const down = (share: number): number => ((share - 0.5 - optics.centre[1]) * optics.sensor[1]) / focal;
  return { left: across(0), right: across(1), top: down(0), bottom: down(1) };
}

/** Slopes that hold all that a distorted lens pictures in its frame. */
export function reachedSlopes(optics: ResolvedOptics, focal: number): Slopes {
  if (optics.distortion === undefined) return plainSlopes(optics, focal);
  const reached = { left: 0, right: 0, top: 0, bottom: 0 };
  const direction = [0, 0, 0];
  for (let step = 0; step <= EDGE_STEPS; step++) {
    const s = step / EDGE_STEPS;
    for (const [across, down] of [
      [s, 0],
      [s, 1],
      [0, s],
      [1, s],
    ]) {
      if (!unproject(optics, focal, across, down, direction)) continue;
      const [x, y] = [-direction[1], -direction[2]];
      reached.left = Math.max(Math.min(reached.left, x), -STEEPEST);
      reached.right = Math.min(Math.max(reached.right, x), STEEPEST);
      reached.top = Math.max(Math.min(reached.top, y), -STEEPEST);
      reached.bottom = Math.min(Math.max(reached.bottom, y), STEEPEST);
    }
  }
  if (reached.left === reached.right || reached.top === reached.bottom) return plainSlopes(optics, focal);
  return reached;
}

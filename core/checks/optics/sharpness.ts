import { blurCircle } from "../../lens/depth-of-field.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant } from "../../motion/trajectory.ts";

/** Where a target is, and where the lens is focused, along the view from the entrance pupil [m]. */
export interface Depths {
  readonly target: number;
  /** NaN when no key gives a focus. */
  readonly focused: number;
}

export function depthsOf({ optics }: ResolvedMove, instant: Instant, target: number): Depths {
  const { focus, pupil } = instant;
  return { target: depthOf(instant, target), focused: focus - pupil - optics.flange };
}

/** A target's distance along the view, from the quaternion's first axis. */
function depthOf({ rotation, targets, position }: Instant, target: number): number {
  const [x, y, z, w] = rotation;
  const at = 3 * target;
  return (
    (1 - 2 * (y * y + z * z)) * (targets[at] - position[0]) +
    2 * (x * y + w * z) * (targets[at + 1] - position[1]) +
    2 * (x * z - w * y) * (targets[at + 2] - position[2])
  );
}

/**
 * How wide a point of a target is pictured, as a share of the circle of confusion: 1 at the ends of the depth of field. NaN
 * without a focus, behind the camera, and where the lens forms no picture.
 */
export function defocusOf(move: ResolvedMove, instant: Instant, target: number): number {
  const { target: point, focused } = depthsOf(move, instant, target);
  return blurCircle(instant.focal, instant.iris, focused, point) / move.optics.coc;
}

/**
 * The target that has to be sharp: the one aimed at, once the sight has gone over to it and while focus is not on its way
 * from one thing to another, when nobody is meant to be. -1 for none.
 */
export function settledSubject({ aimFrom, aimTo, aimBlend, focusFrom, focusTo, focusBlend }: Instant): number {
  const racks = focusFrom !== focusTo && 0 < focusBlend && focusBlend < 1;
  if (racks) return -1;
  if (aimFrom === aimTo || aimBlend <= 0) return aimFrom;
  return 1 <= aimBlend ? aimTo : -1;
}

/** [share of the circle of confusion] Of what has to be sharp; -Infinity where nothing has. */
export function softness(instant: Instant, move: ResolvedMove): number {
  const subject = settledSubject(instant);
  const width = subject < 0 ? NaN : defocusOf(move, instant, subject);
  return Number.isNaN(width) ? -Infinity : width;
}

import type { ResolvedMove } from "../motion/resolved-move.ts";

/** One source of error that is drawn by itself: an axis or a turntable. In m or rad, slip as a share of the way. */
export interface RepeatAxis {
  /** Index into `move.axes`. */
  readonly axis: number;
  readonly sigma: number;
  readonly slip: number;
  readonly backlash: number;
}

/**
 * The axes of a move that state how well they repeat. What is set by hand before a take stands still from pass to pass, so
 * it is none of them. A follower is moved by its leader's error; what it states itself comes on top.
 */
export function repeatAxes({ axes }: Pick<ResolvedMove, "axes">): readonly RepeatAxis[] {
  return axes.flatMap(({ role, repeat }, axis): RepeatAxis[] => {
    const { sigma = 0, slip = 0, backlash = 0 } = repeat ?? {};
    if (role === "setup" || (sigma === 0 && slip === 0 && backlash === 0)) return [];
    return [{ axis, sigma, slip, backlash }];
  });
}

import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { beginWalk, extentOf, fillGrid, type RegionProblem } from "./region-grid.ts";
import { sectionSurface, shellSurface, type RegionSurface } from "./region-surface.ts";

/** Where the entrance pupil can be brought to, whichever way the camera then looks. */
export interface ReachableRegion extends RegionSurface {
  /** Distance of the nodes that were tried [m]: parts and holes smaller than it may be missed. */
  readonly step: number;
  /** True where an axis without an end was cut off. */
  readonly open: boolean;
  /** Lowest and highest place that poses brought the pupil to [m]. */
  readonly heights: readonly [number, number];
}

/** Nodes that are tried at most. */
const SECTION_NODES = 14_000;
const SHELL_NODES = 36_000;
/** Steps that are taken, so that their number is a short one [m]. */
const STEPS = [0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.75, 1];
/** Poses at random stop short of the farthest places: the grid goes so much farther, of the size, and by so many steps. */
const ROOM = 0.06;
const ROOM_STEPS = 2;

/**
 * The region that the entrance pupil can reach, its orientation left free, from the chain's own equations: at each node of a
 * grid the pupil is brought there inside every travel, followers' too, or not.
 *
 * @param height Of the section in the set [m]; `undefined` for the shell of the whole region.
 */
export function* reachableRegion(problem: RegionProblem, height: number | undefined): Task<ReachableRegion> {
  const nothing = new Float32Array(0);
  // What can't move reaches one place.
  if (problem.axes.length === 0)
    return { triangles: nothing, outline: nothing, step: STEPS[0], open: false, heights: [0, 0] };
  const walk = yield* beginWalk(problem);
  const { low, high } = extentOf(walk);
  const most = height === undefined ? SHELL_NODES : SECTION_NODES;
  const axes = height === undefined ? [0, 1, 2] : [0, 1];
  const sizes = axes.map((axis) => (1 + 2 * ROOM) * (high[axis] - low[axis]));
  const countsAt = (step: number): number[] => sizes.map((size) => Math.ceil(size / step) + 1 + 2 * ROOM_STEPS);
  const step =
    STEPS.find((one) => countsAt(one).reduce((product, count) => product * count, 1) <= most) ??
    STEPS[STEPS.length - 1];
  const counts = countsAt(step);
  const origin = [0, 1, 2].map((axis) => {
    if (axis === 2 && height !== undefined) return height;
    return (low[axis] + high[axis] - (counts[axis] - 1) * step) / 2;
  }) as unknown as Vec3;
  const grid = yield* fillGrid(walk, {
    origin,
    step,
    counts: [counts[0], counts[1], height === undefined ? counts[2] : 1],
  });
  const surface = yield* height === undefined ? shellSurface(grid) : sectionSurface(grid);
  return { ...surface, step, open: grid.open, heights: [low[2], high[2]] };
}

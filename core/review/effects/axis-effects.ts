import { LIMITS } from "../../base/limits.ts";
import { worstLimit, type Peak } from "../../motion/peaks.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import type { SameThings } from "../match-names.ts";
import type { AxisEffect, LargestChange, Sides } from "../review.ts";

/** One move as it was and as it is; a side that is not there, or is not solved, is absent. */
export type Trajectories = Sides<Trajectory>;

/**
 * How near each axis of either side comes to its limits.
 *
 * @param largest Of each pair of axes, in the order of `same.axes`.
 */
export function axisEffects(
  { before, after }: Trajectories,
  same: SameThings,
  largest: readonly (LargestChange | undefined)[],
): AxisEffect[] {
  const pairOf = new Map(same.axes.map(([a, b], pair) => [b, { a, pair }]));
  const paired = new Set(same.axes.map(([a]) => a));
  const now = (after?.axes ?? []).map(({ name, type }, b): AxisEffect => {
    const { a, pair } = pairOf.get(b) ?? {};
    const change = pair === undefined ? undefined : largest[pair];
    const peaks = { before: peakOf(before, a), after: peakOf(after, b) };
    return { axis: name, type, ...sharesOf(peaks), ...(change ? { largest: change } : {}) };
  });
  const gone = (before?.axes ?? []).flatMap(({ name, type }, a): AxisEffect[] =>
    paired.has(a) ? [] : [{ axis: name, type, ...sharesOf({ before: peakOf(before, a) }) }],
  );
  return [...now, ...gone];
}

const peakOf = (trajectory: Trajectory | undefined, axis: number | undefined): Peak | undefined =>
  trajectory && axis !== undefined ? worstLimit(trajectory, axis) : undefined;

function sharesOf({ before, after }: Sides<Peak | undefined>): Pick<AxisEffect, "share" | "of" | "at"> {
  const both = <T>(read: (peak: Peak) => T): Sides<T> => ({
    ...(before ? { before: read(before) } : {}),
    ...(after ? { after: read(after) } : {}),
  });
  return {
    share: { ...both(({ share }) => share), dimension: "share" },
    of: both(({ order }) => LIMITS[order]),
    at: both(({ t }) => t),
  };
}

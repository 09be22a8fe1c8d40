import type { Trajectory } from "../motion/trajectory.ts";
import { endsAsBegun } from "../motion/way-back.ts";
import { stopsBack } from "./travel.ts";

/** [m/s], [rad/s] Slower than this an axis counts as at rest: it does not take up the play. */
const AT_REST = 1e-9;

/** [m], [rad] A shorter way does not take up the play either. */
const NO_WAY = 1e-9;

/** From below, from above, or not known. */
export type Approach = 1 | -1 | 0;

/**
 * From which side an axis has come to where it is at a time of the take. While it rests it is where its last motion left
 * it; before its first motion of the take that was the way back. Not known for one that never moves, and before the first
 * motion where the rig is set anew by hand.
 */
export function approachOf(trajectory: Trajectory, axis: number): (t: number) => Approach {
  const spans = trajectory.outside(axis, 1, -AT_REST, AT_REST);
  const signs = spans.map(({ worst }): Approach => (worst.value < 0 ? -1 : 1));
  const before = approachBefore(trajectory, axis, signs);
  return (t) => {
    let [lo, hi] = [0, spans.length];
    while (lo < hi) {
      const mid = (lo + hi) >> 1;
      if (spans[mid].from < t) lo = mid + 1;
      else hi = mid;
    }
    return lo === 0 ? before : signs[lo - 1];
  };
}

function approachBefore(trajectory: Trajectory, axis: number, signs: readonly Approach[]): Approach {
  const { wayBack } = trajectory.move;
  if (wayBack?.kind === "none") return 0;
  if (wayBack?.kind === "direct") {
    const stops = stopsBack(trajectory, axis);
    const steps = stops.slice(1).map((value, i) => value - stops[i]);
    const moves = steps.filter((step) => Math.abs(step) > NO_WAY);
    return moves.length === 0 ? 0 : moves[moves.length - 1] < 0 ? -1 : 1;
  }
  if (signs.length === 0) return 0;
  // A move that ends as it begins goes no way back: the take before has left the axis as it is.
  if (!wayBack && endsAsBegun(trajectory)) return signs[signs.length - 1];
  return signs[0] === 1 ? -1 : 1;
}

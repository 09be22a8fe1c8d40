import type { Dimension } from "../../base/dimension.ts";
import type { Task } from "../../base/task.ts";
import { isDelivered, pictureShift } from "../../compare/picture-shift.ts";
import type { ComparedPicture } from "../../compare/compared-move.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../motion/trajectory.ts";
import type { SameThings } from "../match-names.ts";
import type { LargestChange } from "../review.ts";
import { largestOf, type Difference } from "./largest.ts";

/** How far two motions are apart where they are farthest; absent where there is nothing that could be compared. */
export interface Differences {
  readonly path: { readonly byTime: LargestChange; readonly byShare: LargestChange };
  /** In the order of `same.axes`. */
  readonly axes: readonly (LargestChange | undefined)[];
  /** In the order of `same.targets`. */
  readonly framing: readonly (LargestChange | undefined)[];
  readonly focus?: LargestChange;
}

/** Compares two motions at equal played times, up to the end of the shorter, and their paths at equal shares too. */
export function* differencesOf(before: Trajectory, after: Trajectory, same: SameThings): Task<Differences> {
  const all = [pupil, ...same.axes.map(axis), ...same.targets.map(target(before.move, after.move)), focus];
  const until = Math.min(before.duration, after.duration);
  const byTime = yield* largestOf({ before, after, until, scale: 1 }, all);
  const scale = after.duration > 0 ? before.duration / after.duration : 0;
  const byShare = scale === 1 ? byTime : yield* largestOf({ before, after, until: after.duration, scale }, [pupil]);
  const change = (idx: number, dimension: Dimension, from = byTime): LargestChange | undefined =>
    from[idx] && { ...from[idx], dimension };
  const still: LargestChange = { value: 0, at: 0, dimension: "length" };
  const focused = change(all.length - 1, "length");
  return {
    path: { byTime: change(0, "length") ?? still, byShare: change(0, "length", byShare) ?? still },
    axes: same.axes.map(([, b], k) => change(1 + k, after.axes[b].type === "linear" ? "length" : "angle")),
    framing: same.targets.map((_, k) => change(1 + same.axes.length + k, "pixels")),
    ...(focused ? { focus: focused } : {}),
  };
}

const pupil: Difference = ({ position: a }, { position: b }) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

const axis =
  ([a, b]: readonly [number, number]): Difference =>
  (was, is) =>
    Math.abs(is.value[b] - was.value[a]);

const focus: Difference = (was, is) => Math.abs(is.focus - was.focus);

/** How far a target goes in the delivered picture of the side after [px]; NaN where neither delivers it, or one can't picture it. */
const target = (before: ResolvedMove, after: ResolvedMove) => {
  const [was, is] = [before, after].map(pictureOf);
  const [from, to, shift] = [new Float64Array(2), new Float64Array(2), new Float64Array(4)];
  return ([a, b]: readonly [number, number]): Difference =>
    (one, other) => {
      framing(one, a, from);
      framing(other, b, to);
      if (!isDelivered(was, from) && !isDelivered(is, to)) return NaN;
      return pictureShift(is, to, was, from, shift) ? Math.hypot(shift[2], shift[3]) : NaN;
    };
};

const pictureOf = ({ optics, deliver }: ResolvedMove): ComparedPicture => ({ resolution: optics.resolution, deliver });

function framing({ framing: all }: Instant, index: number, out: Float64Array): void {
  for (let k = 0; k < 2; k++) out[k] = all[2 * index + k];
}

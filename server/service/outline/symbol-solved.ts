import type { Task } from "../../../core/base/task.ts";
import { formatQuantity } from "../../../core/base/units.ts";
import { worstShare, type Peak } from "../../../core/motion/peaks.ts";
import type { MoveAxis } from "../../../core/motion/resolved-move.ts";
import { keysOfFile } from "../key-place.ts";
import { labelText } from "../key-table.ts";
import { LIMIT_WORDS, percent } from "../peak-words.ts";
import type { Solved, View } from "../view.ts";

/** What the outline tells of a move beyond its text. */
export interface SolvedDetails {
  /** Of the move: how long it is, and how near it comes to a limit. */
  readonly whole?: string;
  /** Of the key whose text begins at an offset. */
  readonly keyAt: (start: number) => string | undefined;
}

/** The worst of an interval of a trajectory: one that an edit leaves as it was is not looked at again. */
const KEPT = new WeakMap<object, { readonly worst: Peak | undefined }>();

/** From the motion that is known now; from an older text while this one can't be solved. A move without one is not solved for it. */
export function* solvedDetails({ solved, file }: View): Task<SolvedDetails> {
  if (!solved) return { keyAt: () => undefined };
  const { move, trajectory } = solved;
  const keys = new Map(keysOfFile(solved, file).map(({ key, place }) => [place.span.start, key]));
  const ways = yield* worstOfWays(solved);
  const worst = ways.reduce((most, each) => worse(most, each), undefined);
  return {
    whole: [formatQuantity(trajectory.duration, "time"), ...shareWords(trajectory.axes, worst)].join(", "),
    keyAt(start) {
      const key = keys.get(start);
      if (key === undefined) return undefined;
      const { time } = move.keys[key];
      return [formatQuantity(time, "time"), labelText(move, time), ...shareWords(trajectory.axes, ways[key])].join(
        ", ",
      );
    },
  };
}

/** The highest share of a limit on the way to each key, by key; none at the first. */
function* worstOfWays({ move, trajectory }: Solved): Task<(Peak | undefined)[]> {
  const { knots, intervals } = trajectory;
  const ways: (Peak | undefined)[] = move.keys.map(() => undefined);
  let key = 0;
  for (let idx = 0; idx + 1 < knots.length; idx += 1) {
    const middle = (knots[idx] + knots[idx + 1]) / 2;
    while (key + 1 < move.keys.length && move.keys[key].time < middle) key += 1;
    const interval = intervals[idx];
    const kept = KEPT.get(interval) ?? { worst: worstShare(trajectory, knots[idx], knots[idx + 1]) };
    KEPT.set(interval, kept);
    ways[key] = worse(ways[key], kept.worst);
    yield;
  }
  return ways;
}

function worse(one: Peak | undefined, other: Peak | undefined): Peak | undefined {
  return one && (!other || one.share >= other.share) ? one : other;
}

/** `70 % of slide speed`: the highest share of a limit over a span. */
function shareWords(axes: readonly MoveAxis[], worst: Peak | undefined): string[] {
  return worst ? [`${percent(worst.share)} of ${axes[worst.axis].name} ${LIMIT_WORDS[worst.order]}`] : [];
}

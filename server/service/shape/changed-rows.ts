import { firstFrom } from "../../../core/base/sampling.ts";
import type { Task } from "../../../core/base/task.ts";
import { sampleTake } from "../../../core/motion/sample.ts";
import type { Take } from "../../../core/motion/take.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";

/** Samples that stand in place of rows `from` up to, without, `to` of a take that was made before. */
export interface ChangedRows {
  readonly from: number;
  readonly to: number;
  readonly take: Take;
}

/** Samples of a way beside the key that is dragged, and of ways far from it, where hardly anything changes. */
const NEAR_ROWS = 48;
const FAR_ROWS = 4;
/** Samples of a second beside the key at most: as many as a take has. */
const PER_SECOND = 60;

/**
 * Samples what changed between two plans of a move, densely around a time, thinly where the change fades away; `undefined`
 * where nothing did.
 *
 * @param times Of the rows of the take that was made of `before` [s], ascending.
 * @param all   Everything may have changed: what the plan takes over says nothing.
 */
export function* changedRows(
  before: Trajectory,
  now: Trajectory,
  times: Float64Array,
  around: number,
  all: boolean,
): Task<ChangedRows | undefined> {
  const [one, other] = [before.intervals, now.intervals];
  const most = Math.min(one.length, other.length);
  let head = 0;
  let tail = 0;
  if (!all) {
    while (head < most && one[head] === other[head]) head += 1;
    while (tail < most - head && one[one.length - 1 - tail] === other[other.length - 1 - tail]) tail += 1;
    if (head === most && one.length === other.length) return undefined;
    // A change fades away from key to key: what nobody can see of it is not sent.
    const agree = createAgreement(before, now);
    while (head < most - tail && agree(head, head)) head += 1;
    while (tail < most - head && agree(one.length - 1 - tail, other.length - 1 - tail)) tail += 1;
    if (head === most && one.length === other.length) return undefined;
  }
  // Rows at a knot belong to what begins there; where both end alike the last row stays.
  const start = now.knots[head];
  const end = now.knots[other.length - tail];
  const from = firstFrom(times, start);
  const to = tail === 0 ? times.length : firstFrom(times, end);
  const fresh: number[] = [];
  for (let i = head; i < other.length - tail; i++) {
    const [a, b] = [now.knots[i], now.knots[i + 1]];
    const rows = rowsOf(now, i, around, b - a);
    for (let k = 0; k < rows; k++) fresh.push(a + ((b - a) * k) / rows);
  }
  if (tail === 0) fresh.push(now.duration);
  return { from, to, take: yield* sampleTake(now, fresh) };
}

/** Axes and framings nearer to each other than this look the same [m, rad, shares]. */
const UNSEEN = 1e-7;

/** Whether an interval of one plan goes as one of another does, looked at in its ends and between. */
function createAgreement(before: Trajectory, now: Trajectory): (i: number, j: number) => boolean {
  const [a, b] = [before.createInstant(), now.createInstant()];
  const isNear = (one: Float64Array, other: Float64Array): boolean =>
    one.every((value, k) => Math.abs(value - other[k]) <= UNSEEN || (Number.isNaN(value) && Number.isNaN(other[k])));
  return (i, j) => {
    const [start, end] = [before.knots[i], before.knots[i + 1]];
    if (start !== now.knots[j] || end !== now.knots[j + 1]) return false;
    return [0, 0.35, 0.7, 1].every((share) => {
      const t = start + share * (end - start);
      const side = share < 1 ? "right" : "left";
      before.poseAt(t, a, side);
      now.poseAt(t, b, side);
      return (
        isNear(a.value, b.value) &&
        isNear(a.wanted, b.wanted) &&
        isNear(a.framing, b.framing) &&
        Math.abs(a.focal - b.focal) <= UNSEEN &&
        a.aimTo === b.aimTo
      );
    });
  };
}

/** Half as many with each interval farther from the key. */
function rowsOf({ knots }: Trajectory, interval: number, around: number, span: number): number {
  let away = 0;
  for (let i = interval; knots[i + 1] < around && away < 8; i++) away += 1;
  for (let i = interval; around < knots[i] && away < 8; i--) away += 1;
  const dense = Math.min(NEAR_ROWS, Math.ceil(span * PER_SECOND)) / 2 ** Math.max(0, away - 1);
  return Math.max(Math.min(FAR_ROWS, Math.ceil(span * PER_SECOND)), Math.ceil(dense), 1);
}

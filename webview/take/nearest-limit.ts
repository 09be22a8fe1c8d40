import type { OpenTake } from "./open-take.ts";
import type { Moment } from "./moment.ts";
import { between } from "../../core/base/sampling.ts";
import { bandOf, limitOf, rangeShare, tableOf } from "./share.ts";

/**
 * Which axis is nearest to one of its limits at every sample of a take, by its share of the range (0 in the middle) or of
 * speed, acceleration or jerk. Of axes that are about as near, the one that was nearest stays so: it hangs on the time alone,
 * not on how somebody came there.
 */
export interface NearestCourse {
  /** Shape (n,): axis, -1 where no axis has a limit. */
  readonly axis: Int16Array;
  /** Shape (n,): order of what it is nearest in, 0 for its range. */
  readonly order: Uint8Array;
}

/** By how much another one must be nearer. */
const STAYS = 0.015;

export function nearestCourse(open: OpenTake): NearestCourse {
  const { count } = open.take;
  const { axes } = open.stage;
  const course = { axis: new Int16Array(count).fill(-1), order: new Uint8Array(count) };
  const tables = [0, 1, 2, 3].map((order) => tableOf(open, order));
  let [axis, order] = [-1, 0];
  for (let i = 0; i < count; i++) {
    let [bestAxis, bestOrder, best] = [-1, 0, -1];
    for (let a = 0; a < axes.length; a++) {
      for (let n = 0; n < 4; n++) {
        const share = shareOf(open, a, n, tables[n][i * axes.length + a]);
        if (share > best) [bestAxis, bestOrder, best] = [a, n, share];
      }
    }
    const held = axis < 0 ? NaN : shareOf(open, axis, order, tables[order][i * axes.length + axis]);
    const isBroken = bandOf(best) === "over" && bandOf(held) !== "over";
    if (!(held + STAYS >= best) || isBroken) [axis, order] = [bestAxis, bestOrder];
    course.axis[i] = axis;
    course.order[i] = order;
  }
  return course;
}

/** The share of the limit that is told at a moment; straight between two samples. NaN where no axis has a limit. */
export function nearestShare(open: OpenTake, course: NearestCourse, moment: Moment): number {
  const sample = toldSample(open, moment);
  const axis = course.axis[sample];
  if (axis < 0) return NaN;
  const order = course.order[sample];
  if (order === 0) return shareOf(open, axis, 0, moment.values[axis]);
  const width = open.stage.axes.length;
  const table = tableOf(open, order);
  const at = moment.sample * width + axis;
  return shareOf(
    open,
    axis,
    order,
    at + width < table.length ? between(table[at], table[at + width], moment.way) : table[at],
  );
}

/** The sample whose axis is told at a moment. */
export function toldSample({ take }: OpenTake, { sample, way }: Moment): number {
  return way >= 0.5 && sample + 1 < take.count ? sample + 1 : sample;
}

function shareOf(open: OpenTake, axis: number, order: number, value: number): number {
  const one = open.stage.axes[axis];
  if (order === 0) {
    const share = rangeShare(one, value);
    // What is set before the take may stand at an end of its range: nothing comes nearer to it.
    return one.role === "setup" && bandOf(share) !== "over" ? NaN : share;
  }
  const limit = limitOf(one, order);
  if (limit === undefined || Number.isNaN(value)) return NaN;
  const used = Math.abs(value);
  return limit > 0 ? used / limit : used > 0 ? Infinity : 0;
}

import { formatQuantity } from "../base/units.ts";
import { timeName } from "../checks/message.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { SAME_MOTION } from "./tolerance.ts";

/** Instants at which two motions are compared, the ends of their pieces besides. */
const INSTANTS = 240;

/**
 * By how much the axes of an edited move go another way than before, in a clause; `undefined` where none does by more than
 * the tolerance of edits. Both last equally long.
 */
export function motionChange(before: Trajectory, after: Trajectory): string | undefined {
  const [a, b] = [before.createInstant(), after.createInstant()];
  const { duration } = before;
  const even = Array.from({ length: INSTANTS + 1 }, (_, i) => (i * duration) / INSTANTS);
  const most = before.axes.map(({ type }, axis) => ({ type, axis, by: 0, time: 0 }));
  for (const time of [...even, ...before.knots, ...after.knots]) {
    before.poseAt(time, a);
    after.poseAt(time, b);
    for (const each of most) {
      const by = Math.abs(a.value[each.axis] - b.value[each.axis]);
      if (each.by < by) [each.by, each.time] = [by, time];
    }
  }
  const worst = (["rotary", "linear"] as const).flatMap((type) => {
    const own = most.filter((each) => each.type === type && SAME_MOTION < each.by);
    return own.sort((one, other) => other.by - one.by).slice(0, 1);
  });
  if (worst.length === 0) return undefined;
  const said = worst.map(({ axis, type, by, time }) => {
    const amount = formatQuantity(by, type === "linear" ? "length" : "angle");
    return `\`${before.axes[axis].name}\` by up to ${amount} at ${timeName(time, before.move)}`;
  });
  return `between keys the motion changes, ${said.join(" and ")}`;
}

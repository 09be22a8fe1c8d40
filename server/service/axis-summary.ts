import { formatTimecode } from "../../core/base/timecode.ts";
import { nearestFrame } from "../../core/base/rate.ts";
import { formatQuantity } from "../../core/base/units.ts";
import type { MoveAxis } from "../../core/motion/resolved-move.ts";
import type { Extreme } from "../../core/motion/trajectory.ts";
import type { User } from "./hover.ts";
import { dimensionOf } from "./axis-dimension.ts";
import { code, paragraphs, plain, table } from "./markdown.ts";
import type { Solved } from "./view.ts";

/** One axis over the whole move: what it is, its highest and lowest values and what share of each limit they take. */
export function axisSummary(solved: Solved, name: string): string | undefined {
  const { move, trajectory } = solved;
  const idx = trajectory.axes.findIndex((axis) => axis.name === name);
  if (idx < 0) return undefined;
  const axis = trajectory.axes[idx];
  const label = ({ t }: Extreme) => formatTimecode(move.startFrame + nearestFrame(move.rate, t), move.rate);
  const rows = ([0, 1, 2] as const).flatMap((order) => {
    const { low, high } = trajectory.extremes(idx, order);
    const limit = order === 0 ? undefined : [axis.limits.speed, axis.limits.accel][order - 1];
    const show = (extreme: Extreme) =>
      `${formatQuantity(extreme.value, dimensionOf(axis, order))} at ${label(extreme)}`;
    const allowed =
      order === 0 ? rangeText(axis) : limit === undefined ? "" : formatQuantity(limit, dimensionOf(axis, order));
    return [[["value", "speed", "accel"][order], show(low), show(high), allowed]];
  });
  return paragraphs([
    `${code(name)}: ${axis.type}, ${roleWords(axis)}, ${SOURCES[trajectory.sources[idx]]} in this move.`,
    table(["over the move", "lowest", "highest", "allowed"], rows),
  ]);
}

const SOURCES = {
  keyed: "keyed",
  solved: "solved",
  follows: "led by its leader",
  constant: "constant",
} as const;

function roleWords({ role }: MoveAxis): string {
  return { driven: "driven", setup: "set before the take", follows: "a follower", turntable: "a turntable" }[role];
}

function rangeText(axis: MoveAxis): string {
  if (!axis.range) return "";
  const { low, high } = axis.range;
  return [low, high].map((value) => formatQuantity(value, dimensionOf(axis, 0))).join(" to ");
}

/** What the moves that use an axis need of it: for whoever changes its limits. */
export function axisUse(users: readonly User[], name: string): string | undefined {
  const rows = users.flatMap(({ title, solved }) => {
    const idx = solved.trajectory.axes.findIndex((axis) => axis.name === name);
    if (idx < 0) return [];
    const axis = solved.trajectory.axes[idx];
    const peak = (order: 1 | 2 | 3) => {
      const { low, high } = solved.trajectory.extremes(idx, order);
      const value = Math.max(Math.abs(low.value), Math.abs(high.value));
      const limit = [axis.limits.speed, axis.limits.accel, axis.limits.jerk][order - 1];
      const share = limit === undefined || !(limit > 0) ? "" : ` (${Math.round((value / limit) * 100)} %)`;
      return formatQuantity(value, dimensionOf(axis, order)) + share;
    };
    const { low, high } = solved.trajectory.extremes(idx, 0);
    const value = [low, high].map((extreme) => formatQuantity(extreme.value, dimensionOf(axis, 0))).join(" to ");
    return [[plain(title), value, peak(1), peak(2), peak(3)]];
  });
  return rows.length === 0
    ? undefined
    : table([`${code(name)} in`, "value", "top speed", "top accel", "top jerk"], rows);
}

import { frameAt, nearestFrame, type Rate } from "../../core/base/rate.ts";
import { formatTimecode } from "../../core/base/timecode.ts";
import { formatQuantity, trimmed } from "../../core/base/units.ts";
import { worstShare } from "../../core/motion/peaks.ts";
import type { MoveAxis, ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { Instant, Trajectory } from "../../core/motion/trajectory.ts";
import { dimensionOf } from "./axis-dimension.ts";
import { imageLine } from "./image-line.ts";
import { code, paragraphs, plain, table } from "./markdown.ts";
import { LIMIT_WORDS, percent } from "./peak-words.ts";
import type { Solved } from "./view.ts";

const NOTHING = "";

/** Everything that is known of the move at one of its keys, for a hover. */
export function keyTable(solved: Solved, key: number): string {
  const { move, trajectory, stale } = solved;
  const { label, time } = move.keys[key];
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  return paragraphs([
    `**${plain(label)}** (${key + 1} of ${move.keys.length}), ${timeText(move, time)}`,
    stale ? "*From the last text that could be solved.*" : undefined,
    instant.status === "converged" ? undefined : `*Not solved exactly here (${instant.status}): the nearest values.*`,
    axisTable(trajectory, instant),
    pictureTable(move, instant),
    lensLine(move, instant),
    imageLine(move, instant),
    segmentLine(solved, key),
  ]);
}

/** `00:00:02:10, frame 60, 2.4 s`. */
export function timeText(move: { readonly rate: Rate; readonly startFrame: number }, time: number): string {
  const frame = frameAt(move.rate, time);
  return `${formatTimecode(move.startFrame + frame, move.rate)}, frame ${frame}, ${formatQuantity(time, "time")}`;
}

/** Timecode label of the frame nearest to a time [s]. */
export function labelText(move: { readonly rate: Rate; readonly startFrame: number }, time: number): string {
  return formatTimecode(move.startFrame + nearestFrame(move.rate, time), move.rate);
}

function axisTable({ axes }: Trajectory, instant: Instant): string {
  const rows = axes.map((axis, idx) => [
    code(axis.name),
    formatQuantity(instant.value[idx], dimensionOf(axis, 0)),
    rangeShare(axis, instant.value[idx]),
    formatQuantity(instant.speed[idx], dimensionOf(axis, 1)),
    limitShare(instant.speed[idx], axis.limits.speed),
    formatQuantity(instant.accel[idx], dimensionOf(axis, 2)),
    limitShare(instant.accel[idx], axis.limits.accel),
  ]);
  return table(["axis", "value", "of range", "speed", "of limit", "accel", "of limit"], rows);
}

/** Where each target is in the picture, as shares from the left and the top, and how far away. */
function pictureTable({ targets }: ResolvedMove, instant: Instant): string {
  if (targets.length === 0) return NOTHING;
  const aimed = instant.aimBlend < 0.5 ? instant.aimFrom : instant.aimTo;
  const rows = targets.map((target, idx) => [
    idx === aimed ? `${code(target.name)} (aim)` : code(target.name),
    formatQuantity(instant.distance[idx], "length"),
    framingText(instant.framing[2 * idx], instant.framing[2 * idx + 1]),
    idx === aimed && !Number.isNaN(instant.wanted[0]) ? framingText(instant.wanted[0], instant.wanted[1]) : NOTHING,
  ]);
  return table(["target", "distance", "framing", "asked for"], rows);
}

function framingText(across: number, down: number): string {
  if (Number.isNaN(across)) return "behind the camera";
  return `${trimmed(across, 3)}, ${trimmed(down, 3)}`;
}

function lensLine({ optics }: ResolvedMove, { focus, focal, iris }: Instant): string {
  const parts = [`${plain(optics.lensName)} at ${trimmed(focal * 1000, 1)} mm`];
  if (iris > 0) parts.push(`f/${trimmed(iris, 1)}`);
  if (Number.isFinite(focus)) parts.push(`focus ${formatQuantity(focus, "length")} from the sensor plane`);
  return parts.join(", ");
}

/** The highest share of any limit between this key and the next. */
function segmentLine({ move, trajectory }: Solved, key: number): string | undefined {
  const next = move.keys[key + 1];
  if (!next) return undefined;
  const worst = worstShare(trajectory, move.keys[key].time, next.time);
  if (!worst) return undefined;
  const { order, t, share } = worst;
  return `Until ${plain(next.label)}: at most ${percent(share)} of a limit, the ${LIMIT_WORDS[order]} of ${code(trajectory.axes[worst.axis].name)} at ${labelText(move, t)}.`;
}

/** How far along its range a value is: 0 % at the low end, 100 % at the high one. */
function rangeShare({ range }: MoveAxis, value: number): string {
  if (!range || !(range.high > range.low)) return NOTHING;
  return percent((value - range.low) / (range.high - range.low));
}

function limitShare(value: number, limit: number | undefined): string {
  return limit === undefined || !(limit > 0) ? NOTHING : percent(Math.abs(value) / limit);
}

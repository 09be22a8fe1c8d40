import { formatQuantity } from "../../../core/base/units.ts";
import { peakOf } from "../../../core/motion/peaks.ts";
import { dimensionOf } from "../axis-dimension.ts";
import { labelText } from "../key-table.ts";
import { code, paragraphs, plain, table } from "../markdown.ts";
import { percent } from "../peak-words.ts";
import type { Solved } from "../view.ts";
import { moreRows, MOST_ROWS } from "./around.ts";

/** Fields of a key that shape the way to it or the time at it. */
export const SHAPING = ["path", "ease", "blend", "hold", "stop", "switch", "speed"] as const;
export type Shaping = (typeof SHAPING)[number];

/** Instants at which the camera is looked at on the way. */
const LOOKS = 200;
/** [m], [rad], [m/s] What moves less rests. */
const RESTS = 1e-9;

/** What a field that shapes the motion does to the way to its key, or at it. */
export function segmentHover(solved: Solved, key: number, field: Shaping): string | undefined {
  const { move } = solved;
  const here = move.keys[key];
  if (field === "hold") {
    if (here.hold === undefined) return undefined;
    const until = labelText(move, here.time + here.hold);
    return `At ${plain(here.label)} everything rests from ${labelText(move, here.time)} to ${until}.`;
  }
  if (key === 0) return `${plain(here.label)} is the first key: no way leads to it.`;
  return paragraphs([field === "blend" ? blendWords(solved, key) : undefined, ...wayWords(solved, key)]);
}

/** What the corner at a key is rounded to. */
function blendWords({ move, trajectory }: Solved, key: number): string {
  const { label, time } = move.keys[key];
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  const [x, y, z] = instant.velocity;
  const speed = Math.hypot(x, y, z);
  return speed > RESTS
    ? `At ${plain(label)} the entrance pupil goes on at ${formatQuantity(speed, "length-speed")}.`
    : `At ${plain(label)} the entrance pupil rests: nothing is rounded.`;
}

/** How the camera and the axes come to a key from the one before. */
function wayWords({ move, trajectory }: Solved, key: number): (string | undefined)[] {
  const [before, here] = [move.keys[key - 1], move.keys[key]];
  const [from, to] = [before.time + (before.hold ?? 0), here.time];
  const { length, top, when } = pupilWay(trajectory, from, to);
  const speed = top > 0 ? `, at most ${formatQuantity(top, "length-speed")} at ${labelText(move, when)}` : "";
  const rows = trajectory.axes.flatMap((axis, idx) => {
    const { low, high } = trajectory.extremes(idx, 0, from, to);
    if (high.value - low.value <= RESTS) return [];
    const size = (order: 1 | 2) => {
      const extremes = trajectory.extremes(idx, order, from, to);
      const most = Math.max(-extremes.low.value, extremes.high.value);
      const peak = peakOf(trajectory, idx, order, from, to);
      return formatQuantity(most, dimensionOf(axis, order)) + (peak ? ` (${percent(peak.share)})` : "");
    };
    const values = [from, to].map((t) => formatQuantity(valueAt(trajectory, idx, t), dimensionOf(axis, 0)));
    return [[code(axis.name), ...values, size(1), size(2)]];
  });
  return [
    `From ${plain(before.label)} to ${plain(here.label)} the entrance pupil goes ${formatQuantity(length, "length")} in ${formatQuantity(to - from, "time")}${speed}.`,
    rows.length === 0
      ? undefined
      : table(["on the way", "from", "to", "top speed", "top accel"], rows.slice(0, MOST_ROWS)),
    moreRows(rows.length, "axes"),
  ];
}

function valueAt(trajectory: Solved["trajectory"], axis: number, t: number): number {
  const { low } = trajectory.extremes(axis, 0, t, t);
  return low.value;
}

/** Length [m] of the pupil's way, and its highest speed [m/s] and when [s], from evenly spaced looks. */
function pupilWay(
  trajectory: Solved["trajectory"],
  from: number,
  to: number,
): { readonly length: number; readonly top: number; readonly when: number } {
  const instant = trajectory.createInstant();
  let [length, top, when] = [0, 0, from];
  let last: readonly number[] | undefined;
  for (let look = 0; look <= LOOKS; look += 1) {
    const t = from + ((to - from) * look) / LOOKS;
    trajectory.at(t, instant, look === 0 ? "right" : "left");
    const [x, y, z] = instant.velocity;
    const speed = Math.hypot(x, y, z);
    if (speed > top) [top, when] = [speed, t];
    const now = [...instant.position];
    if (last) length += Math.hypot(...now.map((value, idx) => value - last![idx]));
    last = now;
  }
  return { length, top, when };
}

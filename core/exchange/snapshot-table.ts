import { formatRate } from "../base/rate.ts";
import { brief, steady } from "../draw/snapshot-number.ts";
import type { Sample, Samples, SnapshotAxis } from "../draw/snapshot-samples.ts";
import { percentText, REST, worstRate } from "../draw/snapshot-shares.ts";
import { SNAPSHOT_FORM, SNAPSHOT_MARK } from "../draw/snapshot.ts";
import type { Trajectory } from "../motion/trajectory.ts";
import { markdownText } from "./markdown-text.ts";

const DEGREE = Math.PI / 180;

/**
 * What a snapshot says in figures, as Markdown: it shows as tables beside the picture, and a change of one key shows in one
 * line. The same to the byte wherever it is made.
 *
 * @param picture The picture's file, relative to the table's.
 */
export function snapshotTable(trajectory: Trajectory, samples: Samples, picture: string): string {
  const { move, duration } = trajectory;
  const frames = brief((duration * move.rate.num) / move.rate.den, 2);
  return `<!-- ${SNAPSHOT_MARK}${SNAPSHOT_FORM}. -->

# ${markdownText(move.title)}

![The way of the camera and the shares of limits](<${encodeURIComponent(picture)}>)

Duration: ${steady(duration, 3)} s, ${frames} frames at ${formatRate(move.rate)}. ${worstSentence(samples)} This does not say that the move is safe.

## Keys

${keyTable(trajectory, samples)}

## Highest shares of limits

${shareTable(samples)}
`;
}

function worstSentence({ axes }: Samples): string {
  const all = axes.flatMap(({ name, peaks }) => {
    const worst = worstRate(peaks);
    return worst ? [{ name, worst }] : [];
  });
  const most = all.reduce<(typeof all)[number] | undefined>(
    (top, one) => (!top || one.worst.share > top.worst.share * (1 + 1e-9) ? one : top),
    undefined,
  );
  if (!most || most.worst.share <= REST) return "No axis that moves has a limit of speed, acceleration or jerk.";
  const of = ["range", "speed", "acceleration", "jerk"][most.worst.order];
  return `Highest share: ${percentText(most.worst.share)} of the ${of} of ${markdownText(most.name)}.`;
}

/** One row a key: time, hold, the entrance pupil, and every axis that moves. */
function keyTable({ move, axes, keys: statuses }: Trajectory, samples: Samples): string {
  const moving = samples.axes.map(({ index }) => axes[index]);
  const units = moving.map(({ name, type }) => `${markdownText(name)} [${type === "linear" ? "m" : "deg"}]`);
  const head = ["key", "name", "at [s]", "hold [s]", "x [m]", "y [m]", "z [m]", ...units];
  const rows = move.keys.map((key, i) => {
    const sample: Sample = samples.atKeys[i];
    const values = samples.axes.map(({ index }) =>
      axes[index].type === "linear" ? steady(sample.values[index], 4) : steady(sample.values[index] / DEGREE, 3),
    );
    const isSolved = (statuses[i]?.status ?? "converged") === "converged";
    return [
      String(i + 1),
      markdownText(key.name ?? "") + (isSolved ? "" : " (not reached)"),
      steady(key.time, 3),
      key.hold === undefined ? "" : steady(key.hold, 3),
      ...sample.at.map((part) => steady(part, 3)),
      ...values,
    ];
  });
  return table(head, rows, 2);
}

function shareTable({ axes }: Samples): string {
  const cell = ({ peaks }: SnapshotAxis, order: number): string => {
    const peak = peaks.find((one) => one.order === order);
    if (!peak) return "";
    return percentText(peak.share) + (peak.t === undefined ? "" : ` at about ${brief(peak.t, 2)} s`);
  };
  const rows = axes
    .filter(({ peaks }) => peaks.length > 0)
    .map((axis) => [markdownText(axis.name), ...[1, 2, 3, 0].map((order) => cell(axis, order))]);
  if (rows.length === 0) return "No axis that moves has limits.";
  return table(["axis", "speed", "acceleration", "jerk", "range (100 % at its ends)"], rows, 1);
}

/** @param words How many of the first columns are words; the others are numbers and end in one column. */
function table(head: readonly string[], rows: readonly (readonly string[])[], words: number): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map((_, i) => (i < words ? "---" : "---:"))), ...rows.map(line)].join("\n");
}

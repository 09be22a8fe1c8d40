import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import { highest, peakOf } from "../../../core/motion/peaks.ts";
import type { Instant } from "../../../core/motion/trajectory.ts";
import { dimensionOf } from "../axis-dimension.ts";
import { code, paragraphs, plain, table } from "../markdown.ts";
import { LIMIT_WORDS, percent } from "../peak-words.ts";
import type { Solved } from "../view.ts";

/** A key of a solved move. */
export interface KeyOf {
  readonly solved: Solved;
  readonly key: number;
  /** What an axis or a target is called on the other side. Default: the same. */
  readonly called?: (kind: "axis" | "target", name: string) => string;
}

/** Most rows: longer tables are not read in a hover. */
const MOST_ROWS = 14;

/**
 * Old and new solved values at one key, those that read differently; `undefined` where all read alike.
 *
 * @param labels What both states are called.
 */
export function keyChange(before: KeyOf, after: KeyOf, labels: readonly [string, string]): string | undefined {
  const [was, is] = [valuesAt(before), valuesAt(after)];
  const names = [...new Set([...is.keys(), ...was.keys()])];
  const rows = names.flatMap((name) => {
    const [old, now] = [was.get(name) ?? "–", is.get(name) ?? "–"];
    return old === now ? [] : [[name, old, now]];
  });
  if (rows.length === 0) return undefined;
  const { label } = after.solved.move.keys[after.key];
  return paragraphs([
    `**${plain(label)}**, ${plain(labels[0])} → ${plain(labels[1])}`,
    table(["solved", ...labels.map(plain)], rows.slice(0, MOST_ROWS)),
    rows.length > MOST_ROWS ? `And ${rows.length - MOST_ROWS} more values.` : undefined,
    after.solved.stale ? "*From the last text that could be solved.*" : undefined,
  ]);
}

/** What a person reads of a key, by the name of each value. */
function valuesAt({ solved, key, called = (_, name) => name }: KeyOf): ReadonlyMap<string, string> {
  const { move, trajectory } = solved;
  const { time } = move.keys[key];
  const instant = trajectory.createInstant();
  trajectory.at(time, instant);
  const values = new Map<string, string>([["time", formatQuantity(time, "time")]]);
  trajectory.axes.forEach((axis, idx) => {
    values.set(code(called("axis", axis.name)), formatQuantity(instant.value[idx], dimensionOf(axis, 0)));
  });
  values.set("camera at", pointText(instant.position));
  move.targets.forEach((target, idx) => {
    const name = called("target", target.name);
    values.set(`${code(name)} in the picture`, framingText(instant, idx));
    values.set(`${code(name)} away`, formatQuantity(instant.distance[idx], "length"));
  });
  if (Number.isFinite(instant.focus)) values.set("focus", formatQuantity(instant.focus, "length"));
  values.set("focal length", `${trimmed(instant.focal * 1000, 1)} mm`);
  if (instant.iris > 0) values.set("iris", `f/${trimmed(instant.iris, 1)}`);
  const { time: from } = move.keys[key - 1] ?? { time };
  addShares(values, trajectory, { from, to: time, way: "on the way here", called });
  addShares(values, trajectory, { from: time, to: move.keys[key + 1]?.time ?? time, way: "on the way on", called });
  return values;
}

function pointText(position: ArrayLike<number>): string {
  return `[${Array.from(position, (value) => trimmed(value, 4)).join(", ")}] m`;
}

function framingText({ framing }: Instant, target: number): string {
  const [across, down] = [framing[2 * target], framing[2 * target + 1]];
  return Number.isNaN(across) ? "behind the camera" : `${trimmed(across, 3)}, ${trimmed(down, 3)}`;
}

interface Way {
  /** [s] */
  readonly from: number;
  readonly to: number;
  readonly way: string;
  readonly called: NonNullable<KeyOf["called"]>;
}

/** How near each axis comes to one of its limits of rates on a way. */
function addShares(
  values: Map<string, string>,
  trajectory: Solved["trajectory"],
  { from, to, way, called }: Way,
): void {
  if (!(from < to)) return;
  trajectory.axes.forEach((axis, idx) => {
    const peak = highest(([1, 2, 3] as const).flatMap((order) => peakOf(trajectory, idx, order, from, to) ?? []));
    const name = `${code(called("axis", axis.name))} ${way}`;
    if (peak) values.set(name, `${percent(peak.share)} of ${LIMIT_WORDS[peak.order]}`);
  });
}

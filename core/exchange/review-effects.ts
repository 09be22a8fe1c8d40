import { LIMIT_WORDS, type Limit } from "../base/limits.ts";
import { percent } from "../checks/figures.ts";
import type { Amount, AxisEffect, Effects, LargestChange, MoveReview } from "../review/review.ts";
import { amountChange, amountFigures, isSeen, largestFigure } from "./review-figures.ts";
import { momentWords } from "./review-moment.ts";
import { coded, plain, tableOf, type Line, type OutlineTable } from "./review-outline.ts";

type Timeline = MoveReview["timeline"];
type Row = readonly Line[];

/** What a change does to the motion of a move; what it leaves as it was has no row. Of a move that is gone nothing is told. */
export function effectsTables({ effects, timeline, state }: EffectsOf): OutlineTable[] {
  if (!effects || state === "removed") return [];
  const motion = [
    ...amountRow("duration", effects.duration),
    ...pathRows(effects, timeline),
    ...effects.framing.flatMap(({ target, largest }) =>
      largestRow([plain("framing of "), coded(target)], largest, timeline),
    ),
    ...largestRow([plain("focus distance")], effects.focus, timeline),
    ...amountRow("least clearance", effects.clearance),
    ...amountRow("pass error", effects.passError),
  ];
  return [
    ...tableOf(
      ["axis", "highest share before", "highest share now", "when", "farthest off", "when"],
      effects.axes.flatMap((axis) => axisRow(axis, timeline)),
    ),
    ...tableOf(["motion", "was", "is", "change", "when"], motion),
  ];
}

type EffectsOf = Pick<MoveReview, "effects" | "timeline" | "state">;

function pathRows({ path, duration }: Effects, timeline: Timeline): Row[] {
  if (!path) return [];
  const byTime = largestRow([plain("camera path")], path.byTime, timeline);
  // Seen along the way and not by the clock, a move that is only slower has the same path.
  if (!isSeen(duration)) return byTime;
  return [...byTime, ...largestRow([plain("camera path, time left aside")], path.byShare, timeline)];
}

/** How near an axis comes to its limits, and how far its values are from those before. */
function axisRow({ axis, share, of, at, largest }: AxisEffect, timeline: Timeline): Row[] {
  const shares = { was: shareWords(share.before, of.before), is: shareWords(share.after, of.after) };
  const far = largest ? largestRow([coded(axis)], largest, timeline) : [];
  const isIdle = share.before === undefined && (share.after ?? 0) < 0.0005;
  if ((shares.was === shares.is || isIdle) && far.length === 0) return [];
  const when = at.after === undefined ? [] : momentWords(at.after, timeline);
  const [, , , change, then] = far[0] ?? [[], [], [], [], []];
  return [[[coded(axis)], [plain(shares.was)], [plain(shares.is)], when, change, then]];
}

function shareWords(share: number | undefined, of: Limit | undefined): string {
  if (share === undefined) return "";
  const much = Number.isFinite(share) ? percent(share) : "unbounded share";
  return of === undefined ? much : `${much} of ${LIMIT_WORDS[of]}`;
}

function amountRow(what: string, amount: Amount | undefined): Row[] {
  if (!amount || !isSeen(amount)) return [];
  const { was, is } = amountFigures(amount);
  return [[[plain(what)], [plain(was)], [plain(is)], [plain(amountChange(amount))], []]];
}

function largestRow(what: Line, largest: LargestChange | undefined, timeline: Timeline): Row[] {
  if (!largest || !isSeen({ before: 0, after: largest.value, dimension: largest.dimension })) return [];
  return [[what, [], [], [plain(largestFigure(largest))], momentWords(largest.at, timeline)]];
}

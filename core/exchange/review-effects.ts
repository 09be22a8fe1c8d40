import type { Amount, AxisEffect, Effects, LargestChange, MoveReview } from "../review/review.ts";
import { amountChange, amountFigures, isSeen, largestFigure } from "./review-figures.ts";
import { momentWords } from "./review-moment.ts";
import { coded, plain, type Line, type OutlineTable } from "./review-outline.ts";

type Timeline = MoveReview["timeline"];
type Row = readonly Line[];

/** What a change does to the motion of a move; what it leaves as it was has no row. */
export function effectsTable({ effects, timeline }: Pick<MoveReview, "effects" | "timeline">): OutlineTable[] {
  if (!effects) return [];
  const rows = [
    ...amountRow("duration", effects.duration),
    ...axisRows(effects.axes, timeline),
    ...pathRows(effects, timeline),
    ...effects.framing.flatMap(({ target, largest }) =>
      largestRow([plain("framing of "), coded(target)], largest, timeline),
    ),
    ...largestRow([plain("focus distance")], effects.focus, timeline),
    ...amountRow("least clearance", effects.clearance),
    ...amountRow("pass error", effects.passError),
  ];
  return rows.length === 0 ? [] : [{ kind: "table", head: ["effect on", "was", "is", "change", "when"], rows }];
}

function pathRows({ path }: Effects, timeline: Timeline): Row[] {
  if (!path) return [];
  const byTime = largestRow([plain("camera path")], path.byTime, timeline);
  // Seen along the way and not by the clock, a move that is only slower has the same path.
  return [...byTime, ...largestRow([plain("camera path, time left aside")], path.byShare, timeline)];
}

function axisRows(axes: readonly AxisEffect[], timeline: Timeline): Row[] {
  return axes.flatMap(({ axis, share, of, at, largest }): Row[] => {
    const isOther = isSeen(share) || of.before !== of.after;
    const isFar = largest !== undefined && isSeen({ before: 0, after: largest.value, dimension: largest.dimension });
    const { was, is } = amountFigures(share);
    const nearest: Row[] = isOther
      ? [
          [
            [coded(axis), plain(" nearest to a limit")],
            [plain(shareWords(was, of.before))],
            [plain(shareWords(is, of.after))],
            [],
            at.after === undefined ? [] : momentWords(at.after, timeline),
          ],
        ]
      : [];
    return [...nearest, ...(isFar ? largestRow([coded(axis)], largest, timeline) : [])];
  });
}

const LIMITS: Readonly<Record<string, string>> = { accel: "acceleration" };

const shareWords = (share: string, of: string | undefined): string =>
  share === "" ? "" : of === undefined ? share : `${share} of ${LIMITS[of] ?? of}`;

function amountRow(what: string, amount: Amount | undefined): Row[] {
  if (!amount || !isSeen(amount)) return [];
  const { was, is } = amountFigures(amount);
  return [[[plain(what)], [plain(was)], [plain(is)], [plain(amountChange(amount))], []]];
}

function largestRow(what: Line, largest: LargestChange | undefined, timeline: Timeline): Row[] {
  if (!largest || !isSeen({ before: 0, after: largest.value, dimension: largest.dimension })) return [];
  return [[what, [], [], [plain(largestFigure(largest))], momentWords(largest.at, timeline)]];
}

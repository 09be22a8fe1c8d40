import { LIMIT_WORDS, type Limit } from "../../../core/base/limits.ts";
import { percent } from "../../../core/checks/figures.ts";
import { amountFigures, isSeen, largestFigure } from "../../../core/exchange/review-figures.ts";
import { momentWords } from "../../../core/exchange/review-moment.ts";
import type { Amount, AxisEffect, LargestChange, MoveReview } from "../../../core/review/review.ts";

/** What a change does, in a few words, and how much it counts beside others. */
export interface WeighedWords {
  readonly words: string;
  /** 1 for about what anybody would look at. */
  readonly weight: number;
}

/** What of each weighs 1, common practice, no source: a tenth of a limit, 50 mm, 50 px, 0.1 m of focus, a tenth of the time. */
const WEIGHS = { share: 0.1, path: 0.05, pixels: 50, focus: 0.1, duration: 0.1, linear: 0.05, rotary: 0.1 };
/** What is over its limit now comes before all that is not. */
const OVER = 1000;
/** A share that is unbounded, or far beyond its limit, weighs no more than this. */
const MOST_SHARE = 50;

type Timeline = MoveReview["timeline"];

/** Effects on the motion of a move that both sides have, the weightiest first. */
export function effectWords({
  effects,
  timeline,
  state,
}: Pick<MoveReview, "effects" | "timeline" | "state">): WeighedWords[] {
  if (!effects || state !== "both") return [];
  const { duration, path, framing, focus, clearance, passError } = effects;
  const most = (what: string, change: LargestChange | undefined, weighs: number): WeighedWords[] =>
    largest(what, change, { weighs, timeline });
  return [
    ...effects.axes.flatMap((each) => axisWords(each, timeline)),
    ...amount("duration", duration, WEIGHS.duration * Math.max(duration.before ?? 0, duration.after ?? 0)),
    ...most("camera path", path?.byTime, WEIGHS.path),
    ...framing.flatMap((each) => most(`framing of ${each.target}`, each.largest, WEIGHS.pixels)),
    ...most("focus distance", focus, WEIGHS.focus),
    ...amount("least clearance", clearance, WEIGHS.path),
    ...amount("pass error", passError, WEIGHS.pixels),
  ].sort((a, b) => b.weight - a.weight);
}

/** `pan speed 82 % → 104 %`; an axis whose share stays is told by how far it goes apart. */
export function axisWords({ axis, type, share, of, largest: apart }: AxisEffect, timeline: Timeline): WeighedWords[] {
  const { before, after } = share;
  const [was, is] = [shareWords(before), shareWords(after)];
  if (was === is) return largest(axis, apart, { weighs: WEIGHS[type], timeline });
  const words =
    of.before === of.after
      ? `${axis} ${limitWord(of.after)} ${was} → ${is}`
      : `${axis} ${limitWord(of.before)} ${was} → ${limitWord(of.after)} ${is}`;
  const by = Math.abs((after ?? 0) - (before ?? 0));
  const over = (after ?? 0) > 1 && (after ?? 0) > (before ?? 0) ? OVER : 0;
  return [{ words, weight: (by < MOST_SHARE ? by : MOST_SHARE) / WEIGHS.share + over }];
}

const shareWords = (share: number | undefined): string =>
  share === undefined ? "no limit" : Number.isFinite(share) ? percent(share) : "unbounded";

const limitWord = (of: Limit | undefined): string => (of ? LIMIT_WORDS[of] : "");

function largest(
  what: string,
  change: LargestChange | undefined,
  { weighs, timeline }: { readonly weighs: number; readonly timeline: Timeline },
): WeighedWords[] {
  if (!change || !isSeen({ before: 0, after: change.value, dimension: change.dimension })) return [];
  const when = momentWords(change.at, timeline)
    .map(({ text }) => text)
    .join("");
  return [{ words: `${what} ${largestFigure(change)} ${when}`, weight: change.value / weighs }];
}

function amount(what: string, change: Amount | undefined, weighs: number): WeighedWords[] {
  if (change?.before === undefined || change.after === undefined || !isSeen(change)) return [];
  const { was, is } = amountFigures(change);
  return [{ words: `${what} ${was} → ${is}`, weight: Math.abs(change.after - change.before) / (weighs || 1) }];
}

import { formatQuantity } from "../../../core/base/units.ts";
import type { Amount, AxisEffect, Effects, LargestChange } from "../../../core/review/review.ts";
import { percent } from "../peak-words.ts";

/** What a change does, in a few words, and how much it counts beside others. */
export interface WeighedWords {
  readonly words: string;
  /** 1 for about what anybody would look at. */
  readonly weight: number;
}

/** What of each weighs 1, common practice, no source: a tenth of a limit, 50 mm, 50 px, a tenth of the time. */
const WEIGHS = { share: 0.1, length: 0.05, pixels: 50, duration: 0.1 };
/** Less than this is not told: what rounding leaves [m], [px], [s], shares. */
const TOLD = { share: 0.005, length: 5e-5, pixels: 0.05, time: 5e-4 };

/** Effects on the motion of a move, the weightiest first. */
export function effectWords(effects: Effects): WeighedWords[] {
  const { duration, path, framing, focus, clearance, passError } = effects;
  return [
    ...effects.axes.flatMap(axisWords),
    ...durationWords(duration),
    ...(path ? largest("path up to", path.byTime, WEIGHS.length, TOLD.length) : []),
    ...framing.flatMap((each) =>
      largest(`\`${each.target}\` in the picture up to`, each.largest, WEIGHS.pixels, TOLD.pixels),
    ),
    ...(focus ? largest("focus up to", focus, 2 * WEIGHS.length, TOLD.length) : []),
    ...(clearance ? change("least distance", clearance, WEIGHS.length, TOLD.length) : []),
    ...(passError ? change("error between passes", passError, WEIGHS.pixels, TOLD.pixels) : []),
  ].sort((a, b) => b.weight - a.weight);
}

/** `pan speed 82 % → 104 %`; what only one side has is told with that side alone. */
export function axisWords({ axis, share, of, largest: apart }: AxisEffect): WeighedWords[] {
  const { before, after } = share;
  if (before === undefined && after === undefined) return [];
  if (before === undefined || after === undefined) {
    const only = before === undefined ? "new" : "gone";
    return [{ words: `axis ${axis} is ${only}`, weight: 1 }];
  }
  const by = after === before ? 0 : Math.abs(after - before);
  if (!(by >= TOLD.share)) {
    return apart ? largest(`${axis} up to`, apart, apart.dimension === "length" ? 0.5 : 1, 1e-5) : [];
  }
  const same = of.before === of.after;
  const [was, is] = [percent(before), percent(after)];
  const words = same ? `${axis} ${of.after ?? ""} ${was} → ${is}` : `${axis} ${of.before} ${was} → ${of.after} ${is}`;
  // What is over its limit now comes before all that is not.
  const over = after > 1 && after > before ? 100 : 0;
  return [{ words, weight: (Number.isFinite(by) ? Math.min(by, 50) : 50) / WEIGHS.share + over }];
}

function durationWords({ before, after }: Amount): WeighedWords[] {
  if (before === undefined || after === undefined || Math.abs(after - before) < TOLD.time) return [];
  const words = `takes ${formatQuantity(before, "time")} → ${formatQuantity(after, "time")}`;
  return [{ words, weight: Math.abs(after - before) / Math.max(before, after) / WEIGHS.duration }];
}

function largest(what: string, { value, at, dimension }: LargestChange, weighs: number, told: number): WeighedWords[] {
  if (!(value >= told)) return [];
  const when = formatQuantity(at, "time");
  return [{ words: `${what} ${formatQuantity(value, dimension)} at ${when}`, weight: value / weighs }];
}

function change(what: string, { before, after, dimension }: Amount, weighs: number, told: number): WeighedWords[] {
  if (before === undefined || after === undefined || !(Math.abs(after - before) >= told)) return [];
  const words = `${what} ${formatQuantity(before, dimension)} → ${formatQuantity(after, dimension)}`;
  return [{ words, weight: Math.abs(after - before) / weighs }];
}

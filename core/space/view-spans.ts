import { pupilAt } from "../lens/pupil.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import { createGap, measureGap, type Gap } from "../solid/gap.ts";
import { enterInterval, enterSpan, writeCameraBounds } from "./motion-bounds.ts";
import { placeAt, type Search } from "./search.ts";
import type { Placed } from "./space.ts";
import { viewOf, type View } from "./view-pyramid.ts";

/** [s] A span this short counts as one in which a body may be seen when that cannot be excluded. */
const SEEN_TIME = 1e-3;

/** [s] The same for one with a body in the picture in its middle: what it is at other instants, others look at. */
const IN_VIEW_TIME = 0.1;
/** An interval is cut into so many of those at most: one of a time-lapse takes hours. */
const MOST_IN_VIEW = 1024;

/** Cuts nothing off. */
const WHOLE = [0, 0, 0, 0] as const;

/** Bodies by index and the spans of time outside of which they are proven to be out of the picture [s]. */
export type SeenSpans = ReadonlyMap<number, readonly { readonly from: number; readonly to: number }[]>;

/**
 * When bodies of a rig may be in the picture of its own camera, within one interval of the course.
 *
 * @param which Indices of bodies that the rig carries.
 */
export function spansInView(
  search: Search,
  optics: ResolvedOptics,
  interval: number,
  which: readonly number[],
): SeenSpans {
  const { knots } = search.course;
  const [from, to] = [knots[interval], knots[interval + 1]];
  enterInterval(search.look.bounds, search.course, interval);
  const out = new Map<number, { from: number; to: number }[]>();
  const a = placeAt(search, from, "right", 0);
  const b = placeAt(search, to, from < to ? "left" : "right", 1);
  const inViewTime = Math.max(IN_VIEW_TIME, (to - from) / MOST_IN_VIEW);
  split(search, { optics, gap: createGap(), widest: { focal: NaN, pupil: NaN }, inViewTime, out }, a, b, 0, which);
  return out;
}

interface Seeing {
  readonly optics: ResolvedOptics;
  readonly gap: Gap;
  /** The view that was asked for last: most lenses have one only. */
  readonly widest: { focal: number; pupil: number; view?: View };
  readonly inViewTime: number;
  readonly out: Map<number, { from: number; to: number }[]>;
}

function split(search: Search, seeing: Seeing, a: Placed, b: Placed, depth: number, which: readonly number[]): void {
  const { space, bounds } = search.look;
  const m = placeAt(search, (a.t + b.t) / 2, "right", depth + 2);
  enterSpan(bounds, space, a, m, b);
  const view = widestView(seeing, [a, m, b]);
  if (!view) return;
  const { count } = space.chain;
  const left = which.filter((idx) => {
    writeCameraBounds(bounds, space, m, idx);
    const shift = bounds.shift[idx * (count + 1) + count];
    const distance = gapToView(search, seeing.gap, view, m, idx, shift);
    if (shift <= distance && 0 < distance) return false;
    if (b.t - a.t > Math.max(bounds.shortest, distance <= 0 ? seeing.inViewTime : SEEN_TIME)) return true;
    const spans = seeing.out.get(idx) ?? [];
    const last = spans[spans.length - 1];
    if (last?.to === a.t) last.to = b.t;
    else spans.push({ from: a.t, to: b.t });
    seeing.out.set(idx, spans);
    return false;
  });
  if (left.length === 0) return;
  split(search, seeing, a, m, depth + 1, left);
  split(search, seeing, m, b, depth + 1, left);
}

/** The widest view of a span: a focal length goes one way between knots, and the pupil about as far as its samples tell. */
function widestView({ optics, widest }: Seeing, at: readonly Placed[]): View | undefined {
  const pupils = at.map(({ focal, focus }) => pupilAt(optics, focal, focus));
  const low = Math.min(...pupils);
  const pupil = low - (Math.max(...pupils) - low);
  const focal = Math.min(...at.map((one) => one.focal));
  if (focal !== widest.focal || pupil !== widest.pupil) {
    Object.assign(widest, { focal, pupil, view: viewOf(optics, focal, pupil, WHOLE) });
  }
  return widest.view;
}

/** Distance of a body from the hull of a view, or what it is not below; 0 or less where they overlap [m]. */
function gapToView({ look }: Search, gap: Gap, { hull }: View, m: Placed, idx: number, enough: number): number {
  const { convex } = look.space.bodies[idx];
  const { mountRotation, mountPosition } = m.pose;
  measureGap(convex, m.rotations[idx], m.positions[idx], hull, mountRotation, mountPosition, gap, enough, "unknown");
  return gap.distance;
}

/** True when a placed body is in a view. */
export function isInView({ look }: Search, gap: Gap, { hull, parts }: View, m: Placed, idx: number): boolean {
  const { convex } = look.space.bodies[idx];
  const { mountRotation, mountPosition } = m.pose;
  const meets = (part: View["hull"]): boolean => {
    measureGap(convex, m.rotations[idx], m.positions[idx], part, mountRotation, mountPosition, gap, 0, "unknown");
    return gap.distance <= 0;
  };
  return meets(hull) && (parts.length === 1 || parts.some(meets));
}

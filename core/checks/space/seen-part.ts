import { pupilAt } from "../../lens/pupil.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import { createGap, type Gap } from "../../solid/gap.ts";
import { placeAt, type Search } from "../../space/search.ts";
import { viewOf, type Cut, type View } from "../../space/view-pyramid.ts";
import { isInView } from "../../space/view-spans.ts";
import { FRAME_SLACK } from "../thresholds.ts";

/** A stretch of time in which a part is in the picture. */
export interface Seen {
  readonly body: number;
  /** [s] */
  readonly from: number;
  readonly to: number;
  /** When it reaches farthest in [s], by how much [captured px], and from which edge. */
  readonly peak: number;
  readonly reach: number;
  readonly side: string;
  /** Whether it is in the delivered crop at any instant. */
  readonly isDelivered: boolean;
}

/** What looking at parts needs. */
export interface Sight {
  readonly search: Search;
  readonly move: ResolvedMove;
  readonly gap: Gap;
  /** Views by what they hang on: halving asks for the same ones over and over. */
  readonly views: Map<string, View | undefined>;
}

export const createSight = (search: Search, move: ResolvedMove): Sight => ({
  search,
  move,
  gap: createGap(),
  views: new Map(),
});

const SIDES = ["left", "right", "top", "bottom"] as const;
/** [s] Between instants that are looked at. */
const STEP = 0.1;
const MOST_INSTANTS = 16;
/** [s] To what the ends of a stretch are found. */
const END_TIME = 1e-4;
/** Halvings of the picture's half height or width: to compare instants (a few px), and to tell a figure (below 0.02 px). */
const ROUGH = 9;
const FINE = 17;
/** Steps of the search for the instant that reaches farthest in. */
const PEAK_STEPS = 8;
/** [captured px] Reaches that differ by less are the same. */
const SAME_REACH = 0.05;
const MOST_VIEWS = 4000;

/** When a part is in the picture within a span of time in which it may be. */
export function seenIn(sight: Sight, body: number, span: { readonly from: number; readonly to: number }): Seen[] {
  const count = Math.min(MOST_INSTANTS, Math.max(4, Math.ceil((span.to - span.from) / STEP)));
  const times = Array.from({ length: count + 1 }, (_, i) => span.from + ((span.to - span.from) * i) / count);
  const reaches = times.map((t) => reachAt(sight, body, t, ROUGH));
  const out: Seen[] = [];
  for (let i = 0; i <= count; i++) {
    if (reaches[i] < 0) continue;
    let last = i;
    while (last < count && 0 <= reaches[last + 1]) last++;
    out.push(...stretch(sight, body, times, reaches, i, last));
    i = last;
  }
  return out;
}

function stretch(
  sight: Sight,
  body: number,
  times: readonly number[],
  reaches: readonly number[],
  first: number,
  last: number,
): Seen[] {
  const end = (outside: number | undefined, inside: number): number => {
    let [lo, hi] = [outside ?? inside, inside];
    while (Math.abs(hi - lo) > END_TIME) {
      const mid = (lo + hi) / 2;
      if (meets(sight, body, mid, WHOLE)) hi = mid;
      else lo = mid;
    }
    return hi;
  };
  let best = first;
  for (let i = first; i <= last; i++) if (reaches[i] > reaches[best] + 1e-6) best = i;
  const isFlat = reaches.slice(first, last + 1).every((reach) => reach === reaches[best]);
  const [lo, hi] = [times[Math.max(0, best - 1)], times[Math.min(times.length - 1, best + 1)]];
  const peak = isFlat ? times[first] : farthest(sight, body, lo, hi, times[best]);
  const reach = reachAt(sight, body, peak, FINE);
  // What touches an edge is not in the picture.
  if (reach <= FRAME_SLACK) return [];
  const inside = times.slice(first, last + 1);
  return [
    {
      body,
      from: end(times[first - 1], times[first]),
      to: end(times[last + 1], times[last]),
      peak,
      reach,
      side: sideAt(sight, body, peak, reach),
      isDelivered: [...inside, peak].some((t) => meets(sight, body, t, deliveredCut(sight.move))),
    },
  ];
}

/** The instant between two at which a part reaches farthest in, by golden sections [s]. */
function farthest(sight: Sight, body: number, from: number, to: number, known: number): number {
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [lo, hi, best] = [from, to, { t: known, reach: reachAt(sight, body, known, FINE) }];
  for (let step = 0; step < PEAK_STEPS; step++) {
    const [a, b] = [hi - ratio * (hi - lo), lo + ratio * (hi - lo)];
    const [reachA, reachB] = [reachAt(sight, body, a, FINE), reachAt(sight, body, b, FINE)];
    if (reachA > best.reach + SAME_REACH) best = { t: a, reach: reachA };
    if (reachB > best.reach + SAME_REACH) best = { t: b, reach: reachB };
    if (reachA >= reachB) hi = b;
    else lo = a;
  }
  return best.t;
}

/** How far a part reaches into the picture: what can be cut off all edges with the part still in it [captured px]; -1 outside. */
function reachAt(sight: Sight, body: number, t: number, halvings: number): number {
  if (!meets(sight, body, t, WHOLE)) return -1;
  let [lo, hi] = [0, Math.min(...sight.move.optics.resolution) / 2];
  for (let i = 0; i < halvings; i++) {
    const mid = (lo + hi) / 2;
    if (meets(sight, body, t, [mid, mid, mid, mid])) lo = mid;
    else hi = mid;
  }
  return lo;
}

const WHOLE: Cut = [0, 0, 0, 0];

/** The edge that it comes in from: with more cut off there it is gone. */
function sideAt(sight: Sight, body: number, t: number, reach: number): string {
  const more = (side: number): Cut =>
    SIDES.map((_, k) => Math.max(0, reach - 1) + (k === side ? 3 : 0)) as unknown as Cut;
  const gone = SIDES.filter((_, side) => !meets(sight, body, t, more(side)));
  return gone[0] ?? "nearest";
}

function deliveredCut({ optics, deliver }: ResolvedMove): Cut {
  const [across, down] = [0, 1].map((k) => Math.max(0, (optics.resolution[k] - deliver[k]) / 2));
  return [across, across, down, down];
}

function meets({ search, move, gap, views }: Sight, body: number, t: number, cut: Cut): boolean {
  // Halving looks at one instant over and over.
  const last = search.places[0];
  const placed = last?.t === t ? last : placeAt(search, t, "right", 0);
  const pupil = pupilAt(move.optics, placed.focal, placed.focus);
  const name = `${placed.focal} ${pupil} ${cut.join()}`;
  if (views.size > MOST_VIEWS) views.clear();
  if (!views.has(name)) views.set(name, viewOf(move.optics, placed.focal, pupil, cut));
  const view = views.get(name);
  return view !== undefined && isInView(search, gap, view, placed, body);
}

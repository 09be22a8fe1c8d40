import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { measurePair } from "./pairs.ts";
import { leastIn, placeAt, spansBelow, type Least, type Search } from "./search.ts";

/** A stretch of time in which a group of pairs is nearer than a bound, and its nearest instant. */
export interface Approach {
  readonly group: number;
  /** [s] */
  readonly from: number;
  readonly to: number;
  /** The nearest pair: indices of its bodies, the second may be `FLOOR`. */
  readonly a: number;
  readonly b: number;
  /** When it is nearest [s], its distance then [m], below 0 by how much they overlap, and the two points in the set [m]. */
  readonly t: number;
  readonly distance: number;
  readonly onA: Vec3;
  readonly onB: Vec3;
}

/** [m] Distances that differ by less are the same. */
const SAME = 1e-8;

/** [m] Bodies that touch are told from those that do not by this. */
const TOUCH = 1e-9;

/**
 * All approaches nearer than `bound` [m] over a whole course, of each group in order of time. What is found of an interval
 * depends on nothing but that interval, the bodies and the bound.
 *
 * @param keep Gives what was found of an interval before, and is told what is found now.
 */
export function* approaches(
  search: Search,
  bound: number,
  keep: (interval: number, find: () => Task<readonly Approach[]>) => Task<readonly Approach[]> = (_, find) => find(),
): Task<readonly Approach[]> {
  const { knots } = search.course;
  const byGroup: Approach[][] = Array.from({ length: search.look.pairs.groups }, () => []);
  for (let interval = 0; interval + 1 < knots.length; interval++) {
    const all = yield* keep(interval, () => approachesIn(search, interval, bound));
    for (const found of all) join(byGroup[found.group], found);
    yield;
  }
  return byGroup.flat();
}

/** Those within one interval of the course. With a bound of 0 or less, those that overlap by more than that. */
function* approachesIn(search: Search, interval: number, bound: number): Task<readonly Approach[]> {
  const { knots } = search.course;
  const [from, to] = [knots[interval], knots[interval + 1]];
  const out: Approach[] = [];
  for (const span of yield* spansBelow(search, interval, from, to, Math.max(bound, TOUCH))) {
    const least = yield* leastIn(search, interval, span.from, span.to, pairsOf(search, span.group), span);
    const later = pointsAt(search, least, span.to);
    // Of a distance that stays the same the first instant is told.
    const first = pointsAt(search, { ...least, t: span.from }, span.to);
    const nearest = first.distance <= later.distance + SAME ? first : later;
    if (nearest.distance < bound) out.push({ group: span.group, from: span.from, to: span.to, ...nearest });
  }
  return out;
}

/** The least distance of all pairs from `from` to `to` [s], with its points; `undefined` without pairs. */
export function* leastApproach(search: Search, from: number, to: number): Task<Approach | undefined> {
  const { knots } = search.course;
  const { pairs } = search.look;
  if (pairs.count === 0) return undefined;
  let least: Least = { pair: -1, t: from, distance: Infinity };
  const all = Int32Array.from({ length: pairs.count }, (_, idx) => idx);
  for (let interval = 0; interval + 1 < knots.length; interval++) {
    const start = Math.max(from, knots[interval]);
    const end = Math.min(to, knots[interval + 1]);
    if (start <= end) least = yield* leastIn(search, interval, start, end, all, least);
    yield;
  }
  if (least.pair < 0) return undefined;
  return { group: pairs.group[least.pair], from, to, ...pointsAt(search, least, to) };
}

function pairsOf({ look: { pairs } }: Search, group: number): number[] {
  const first = pairs.group.indexOf(group);
  const last = pairs.group.lastIndexOf(group);
  return Array.from({ length: last + 1 - first }, (_, i) => first + i);
}

function pointsAt(search: Search, { pair, t }: Least, end: number): Omit<Approach, "group" | "from" | "to"> {
  const { space, pairs, room } = search.look;
  const placed = placeAt(search, t, t === end ? "left" : "right", 0);
  const distance = measurePair(space, pairs, pair, placed, room);
  const { from, to } = room.gap;
  return {
    a: pairs.a[pair],
    b: pairs.b[pair],
    t,
    distance,
    onA: [from[0], from[1], from[2]],
    onB: [to[0], to[1], to[2]],
  };
}

/** What goes on over a knot is one approach. */
function join(list: Approach[], next: Approach): void {
  const before = list[list.length - 1];
  if (before?.to !== next.from) {
    list.push(next);
    return;
  }
  const nearer = next.distance < before.distance - SAME ? next : before;
  list[list.length - 1] = { ...nearer, from: before.from, to: next.to };
}

import { depthBelow } from "../solid/depth-below.ts";
import { createGap, measureGap, type Gap } from "../solid/gap.ts";
import { supportOf } from "../solid/support.ts";
import { isStill, type Placed, type Space } from "./space.ts";

/** In place of a second body: the floor, level at a height. */
export const FLOOR = -1;

/** Two things whose distance is looked at; what belongs to one group is told together, by the nearest pair. */
export interface Pair {
  readonly a: number;
  /** Index of a body, or `FLOOR`. */
  readonly b: number;
  readonly group: number;
}

/** Pairs as flat numbers, those of a group beside each other. */
export interface Pairs {
  readonly count: number;
  readonly groups: number;
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly group: Int32Array;
  /** The level that both are seen from: 0 for the set, else that of the link that carries one of them. */
  readonly level: Int32Array;
  /** Height of the floor [m]. */
  readonly floor: number;
}

export function createPairs(space: Space, list: readonly Pair[], floor = 0): Pairs {
  const sorted = [...list].sort((x, y) => x.group - y.group);
  const { bodies } = space;
  const isMoved = (idx: number): boolean => 0 <= idx && !isStill(bodies[idx]) && bodies[idx].table < 0;
  return {
    count: sorted.length,
    groups: sorted.reduce((most, { group }) => Math.max(most, group + 1), 0),
    a: Int32Array.from(sorted, ({ a }) => a),
    b: Int32Array.from(sorted, ({ b }) => b),
    group: Int32Array.from(sorted, ({ group }) => group),
    level: Int32Array.from(sorted, ({ a, b }) =>
      isMoved(a) && isMoved(b) ? Math.min(bodies[a].link, bodies[b].link) + 1 : 0,
    ),
    floor,
  };
}

/** Room to measure pairs in. */
export interface PairRoom {
  readonly gap: Gap;
  readonly point: Float64Array;
  readonly normal: Float64Array;
}

export const createPairRoom = (): PairRoom => ({
  gap: createGap(),
  point: new Float64Array(3),
  normal: new Float64Array(3),
});

/**
 * Measures a pair into `room.gap`. The measurement may end early once the distance is proven above `enough` [m]; with `depths`
 * unknown, as soon as the bodies are known to overlap.
 *
 * @returns The distance, or with `room.gap.bound` what it is not below [m].
 */
export function measurePair(
  space: Space,
  pairs: Pairs,
  idx: number,
  at: Placed,
  room: PairRoom,
  enough = Infinity,
  depths: "known" | "unknown" = "known",
): number {
  const a = pairs.a[idx];
  const b = pairs.b[idx];
  const { gap } = room;
  const { bodies } = space;
  const { rotations: r, positions: p } = at;
  if (b === FLOOR) {
    gap.distance = -depthBelow(bodies[a].convex, r[a], p[a], pairs.floor, gap.from);
    gap.bound = false;
    gap.to.set(gap.from);
    gap.to[2] = pairs.floor;
    gap.along.fill(0);
    gap.along[2] = -1;
    return gap.distance;
  }
  measureGap(bodies[a].convex, r[a], p[a], bodies[b].convex, r[b], p[b], gap, enough, depths);
  return gap.distance;
}

/** A distance that a pair is not below, at the price of a few products [m]. */
export function roughGap({ bodies }: Space, pairs: Pairs, idx: number, at: Placed): number {
  const a = pairs.a[idx];
  const b = pairs.b[idx];
  const { centres: c } = at;
  if (b === FLOOR) return c[3 * a + 2] - bodies[a].convex.radius - pairs.floor;
  const x = c[3 * a] - c[3 * b];
  const y = c[3 * a + 1] - c[3 * b + 1];
  const z = c[3 * a + 2] - c[3 * b + 2];
  const [ra, rb] = [bodies[a].convex.radius, bodies[b].convex.radius];
  const balls = Math.sqrt(x * x + y * y + z * z) - ra - rb;
  // A ball against the box around the larger body: walls and rails fill little of their balls.
  const boxed = ra < rb ? toBox(at, bodies[b], b, a) - ra : toBox(at, bodies[a], a, b) - rb;
  return Math.max(balls, boxed);
}

/** Distance of the centre of body `point` from the box around body `box`, 0 within it [m]. */
function toBox(at: Placed, { boxCentre, boxHalf }: Space["bodies"][number], box: number, point: number): number {
  const r = at.rotations[box];
  const p = at.positions[box];
  const x = at.centres[3 * point] - p[0];
  const y = at.centres[3 * point + 1] - p[1];
  const z = at.centres[3 * point + 2] - p[2];
  let square = 0;
  for (let k = 0; k < 3; k++) {
    const off = Math.abs(r[k] * x + r[3 + k] * y + r[6 + k] * z - boxCentre[k]) - boxHalf[k];
    if (0 < off) square += off * off;
  }
  return Math.sqrt(square);
}

/**
 * How far a pair is apart along the unit vector `n` of the set that points from the first to the second [m]: never more
 * than their distance, whatever `n` is.
 */
export function apartAlong(
  space: Space,
  pairs: Pairs,
  idx: number,
  at: Placed,
  n: Float64Array,
  room: PairRoom,
): number {
  const a = pairs.a[idx];
  const b = pairs.b[idx];
  const near = farthest(space, a, at, n[0], n[1], n[2], room);
  return b === FLOOR ? -pairs.floor - near : -farthest(space, b, at, -n[0], -n[1], -n[2], room) - near;
}

/** How far a body reaches along a unit vector of the set, from the set's origin [m]. */
function farthest(
  { bodies }: Space,
  idx: number,
  at: Placed,
  x: number,
  y: number,
  z: number,
  { point }: PairRoom,
): number {
  const { convex } = bodies[idx];
  const r = at.rotations[idx];
  const p = at.positions[idx];
  const u = r[0] * x + r[3] * y + r[6] * z;
  const v = r[1] * x + r[4] * y + r[7] * z;
  const w = r[2] * x + r[5] * y + r[8] * z;
  supportOf(convex, u, v, w, point, 0);
  return p[0] * x + p[1] * y + p[2] * z + u * point[0] + v * point[1] + w * point[2] + convex.rounding;
}

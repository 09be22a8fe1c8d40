import { seededRandom } from "../base/random.ts";
import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { fillFollowers, forward, pupilPosition, type BaseFrame, type Chain } from "./chain.ts";
import { createDescentBuffer, descend, type ReachProblem } from "./reach-descent.ts";
import { createReachEquations, prepareReach, type ReachGoal } from "./reach-equations.ts";
import { travel, type Travel } from "./travel.ts";

/** What a region is looked for with. */
export interface RegionProblem {
  readonly chain: Chain;
  readonly base: BaseFrame;
  /** Joint indices of the axes that may move; all others keep their value of `standing`. */
  readonly axes: readonly number[];
  /** Shape (n,). */
  readonly standing: Float64Array;
  /** Entrance pupil in front of the flange [m]. */
  readonly pupil: number;
}

/** Nodes at equal distances, of which some are in reach. `counts` of a section along z is 1. */
export interface RegionGrid {
  readonly origin: Vec3;
  readonly step: number;
  readonly counts: readonly [number, number, number];
  /** Shape (nodes,), x running fastest: 1 where the pupil can be brought to the node to 1e-9 m inside every travel. */
  readonly inside: Uint8Array;
  /** Share of the way from node `from` to its neighbour `to`, one in reach and one not, at which reach ends. */
  crossing(from: number, to: number): number;
  /** True where an axis without an end was cut off, or reach goes on beyond the grid. */
  readonly open: boolean;
}

/** Axes without an end are followed so far from where they stand [m]. */
const FOLLOWED = 5;
/** Poses that tell how far the region goes and where its parts are. */
const POSES = 8000;
/** From so many neighbours a node is tried before it counts as out of reach. */
const TRIES = 4;
const ROUNDS = 24;
/** Halvings of a step at the edge. */
const HALVINGS = 5;
/** Descents between two yields: a millisecond or two. */
const SLICE = 4;

/** Room to bring the pupil to places. */
export interface RegionWalk {
  readonly problem: RegionProblem;
  readonly travel: Travel;
  readonly open: boolean;
  /** Shape (POSES, n) and (POSES, 3): poses spread over all travels, and where they bring the pupil in the set [m]. */
  readonly poses: Float64Array;
  readonly places: Float64Array;
  /** Brings the pupil to a place from `q`, which receives where that ends. */
  reach(place: Vec3, q: Float64Array): boolean;
}

export function* beginWalk(problem: RegionProblem): Task<RegionWalk> {
  const { chain, base, axes, standing, pupil } = problem;
  const limits = travel(chain);
  let open = false;
  for (const axis of axes) {
    const turns = chain.rig.joints[axis].type === "rotary";
    const reach = turns ? Math.PI : FOLLOWED;
    const isOpen = !(limits.high[axis] - limits.low[axis] < Infinity);
    open ||= isOpen && !turns;
    if (isOpen) {
      limits.low[axis] = Math.max(limits.low[axis], standing[axis] - reach);
      limits.high[axis] = Math.min(limits.high[axis], standing[axis] + reach);
    }
  }
  const goal: { -readonly [K in keyof ReachGoal]: ReachGoal[K] } = {
    position: [0, 0, 0],
    pupil,
    orientation: { kind: "free" },
  };
  const descent: ReachProblem = {
    chain,
    base,
    goal,
    axes: Int32Array.from(axes),
    travel: limits,
    equations: createReachEquations(chain),
    buffer: createDescentBuffer(axes.length),
  };
  prepareReach(goal, descent.equations);
  const random = seededRandom(0x5e6);
  const n = chain.count;
  const poses = new Float64Array(n * POSES);
  const places = new Float64Array(3 * POSES);
  const { pose } = descent.equations;
  for (let i = 0; i < POSES; i++) {
    const q = poses.subarray(n * i, n * i + n);
    q.set(standing);
    // The first poses are at ends of travels: there the region ends.
    for (const axis of axes) {
      const share = random();
      const at = i < POSES / 4 ? Math.round(share * 2) / 2 : share;
      q[axis] = limits.low[axis] + at * (limits.high[axis] - limits.low[axis]);
    }
    fillFollowers(chain, q);
    forward(chain, base, q, pose);
    pupilPosition(pose, pupil, places.subarray(3 * i, 3 * i + 3));
    if (i % 500 === 499) yield;
  }
  return {
    problem,
    travel: limits,
    open,
    poses,
    places,
    reach(place, q) {
      goal.position = place;
      return descend(descent, q, 1, ROUNDS, false) === "reached";
    },
  };
}

/** Lowest and highest place of the pupil of the poses, shape (3,) each [m]. */
export function extentOf({ places }: RegionWalk): { readonly low: Vec3; readonly high: Vec3 } {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < places.length; i++) {
    low[i % 3] = Math.min(low[i % 3], places[i]);
    high[i % 3] = Math.max(high[i % 3], places[i]);
  }
  return { low: low as unknown as Vec3, high: high as unknown as Vec3 };
}

/**
 * Finds the nodes in reach: from poses near them first, then from neighbour to neighbour, so that a region is filled from
 * wherever it is entered. A node that is told to be in reach is; one at the edge may be missed by less than a step.
 */
export function* fillGrid(
  walk: RegionWalk,
  { origin, step, counts }: Pick<RegionGrid, "origin" | "step" | "counts">,
): Task<RegionGrid> {
  const [nx, ny, nz] = counts;
  const total = nx * ny * nz;
  const n = walk.problem.chain.count;
  const inside = new Uint8Array(total);
  const tries = new Uint8Array(total);
  const known = new Float64Array(n * total);
  const queue = new Int32Array(total);
  const q = new Float64Array(n);
  let [head, tail, done] = [0, 0, 0];
  let border = false;
  const indexOf = (node: number): Vec3 => [node % nx, Math.floor(node / nx) % ny, Math.floor(node / (nx * ny))];
  const placeOf = (node: number): Vec3 => indexOf(node).map((at, k) => origin[k] + at * step) as unknown as Vec3;
  const attempt = (node: number, from: Float64Array, at: number): void => {
    tries[node] += 1;
    for (let i = 0; i < n; i++) q[i] = from[at + i];
    if (!walk.reach(placeOf(node), q)) return;
    inside[node] = 1;
    known.set(q, n * node);
    queue[tail++] = node;
  };
  const flat = nz === 1;
  for (let i = 0; i < walk.places.length / 3; i++) {
    if (i % 500 === 499) yield;
    const index = [0, 1, 2].map((k) => Math.round((walk.places[3 * i + k] - origin[k]) / step));
    const high = Math.abs(walk.places[3 * i + 2] - origin[2]);
    // A pose near the height of a section leads there.
    if (flat && high > Math.max(0.3, 4 * step)) continue;
    if (flat) index[2] = 0;
    if (index.some((at, k) => at < 0 || counts[k] <= at)) continue;
    const node = index[0] + nx * (index[1] + ny * index[2]);
    if (inside[node] === 1 || tries[node] >= TRIES) continue;
    attempt(node, walk.poses, n * i);
    if (++done % SLICE === 0) yield;
  }
  while (head < tail) {
    const node = queue[head++];
    const [x, y, z] = indexOf(node);
    for (const [dx, dy, dz] of flat ? FLAT : SOLID) {
      const [a, b, c] = [x + dx, y + dy, z + dz];
      if (a < 0 || b < 0 || c < 0 || nx <= a || ny <= b || nz <= c) {
        border = true;
        continue;
      }
      const beside = a + nx * (b + ny * c);
      if (inside[beside] === 1 || tries[beside] >= 2 * TRIES) continue;
      attempt(beside, known, n * node);
      if (++done % SLICE === 0) yield;
    }
  }
  return {
    origin,
    step,
    counts,
    inside,
    open: walk.open || border,
    crossing(from, to) {
      const [a, b] = inside[from] === 1 ? [from, to] : [to, from];
      const [start, end] = [placeOf(a), placeOf(b)];
      let [lo, hi] = [0, 1];
      for (let k = 0; k < HALVINGS; k++) {
        const mid = (lo + hi) / 2;
        q.set(known.subarray(n * a, n * a + n));
        const place = start.map((at, axis) => at + mid * (end[axis] - at)) as unknown as Vec3;
        if (walk.reach(place, q)) lo = mid;
        else hi = mid;
      }
      const share = (lo + hi) / 2;
      return inside[from] === 1 ? share : 1 - share;
    },
  };
}

const FLAT = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0]] as const; // prettier-ignore
const SOLID = [...FLAT, [0, 0, 1], [0, 0, -1]] as const;

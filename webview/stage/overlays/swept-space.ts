import type { Task } from "../../../core/base/task.ts";
import { hullTriangles } from "../../../core/solid/hull.ts";
import { createMoment, momentAt } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";
import type { ShapeOf } from "../solids.ts";
import { sweptBodies, type SweptBody } from "./swept-bodies.ts";

/** The space that the rig takes over a stretch of a move, as triangles of convex pieces that overlap. */
export interface SweptSpace {
  /** Shape (n, 3, 3) in the set [m]. */
  readonly triangles: Float32Array;
  /** Where each piece begins, in triangles; for tests. */
  readonly pieces: readonly number[];
  /** What is swept lies within so much of what is drawn, and what is drawn within so much of what is swept [m]. */
  readonly tolerance: number;
}

/** Tolerances that are tried until the triangles are few enough [m]. */
const TOLERANCES = [0.005, 0.01, 0.02, 0.04, 0.08, 0.16, 0.32] as const;
const MOST_TRIANGLES = 240_000;
/** Poses that are looked at: so many a second, and at least and at most so many in all. */
const RATE = 60;
const POSES = [60, 3000] as const;
const SLICE = 16;

/**
 * Sweeps all that moves with the rig from `from` to `to` [s]: each body by the hulls of it in two poses, so far apart that
 * no pose in between comes out of their hull by more than half of the tolerance.
 */
export function* sweptSpace(open: OpenTake, shapeOf: ShapeOf, from: number, to: number): Task<SweptSpace> {
  const poses = yield* posesOf(open, from, to);
  for (const tolerance of TOLERANCES) {
    const swept = yield* sweep(poses, sweptBodies(open, shapeOf, tolerance / 2), tolerance);
    if (swept) return swept;
  }
  return { triangles: new Float32Array(0), pieces: [], tolerance: Infinity };
}

/** Places of all links at instants: row-major rotation and position, shape (poses, links + 1, 12), the base first. */
interface Poses {
  readonly count: number;
  readonly links: number;
  readonly rows: Float64Array;
}

function* posesOf(open: OpenTake, from: number, to: number): Task<Poses> {
  const steps = Math.min(Math.max(POSES[0], Math.ceil((to - from) * RATE)), POSES[1]);
  const links = open.chain.count + 1;
  const rows = new Float64Array(12 * links * (steps + 1));
  const moment = createMoment(open);
  for (let i = 0; i <= steps; i++) {
    if (i % SLICE === SLICE - 1) yield;
    momentAt(open, from + ((to - from) * i) / steps, moment);
    const at = 12 * links * i;
    rows.set(open.base.rotation, at);
    rows.set(open.base.position, at + 9);
    for (let link = 0; link + 1 < links; link++) {
      rows.set(moment.pose.rotations.subarray(9 * link, 9 * link + 9), at + 12 * (link + 1));
      rows.set(moment.pose.positions.subarray(3 * link, 3 * link + 3), at + 12 * (link + 1) + 9);
    }
  }
  return { count: steps + 1, links, rows };
}

/** `undefined` where it takes too many triangles. */
function* sweep(poses: Poses, bodies: readonly SweptBody[], tolerance: number): Task<SweptSpace | undefined> {
  const triangles: number[] = [];
  const pieces: number[] = [];
  let between = 0;
  for (const body of bodies) {
    const corners = cornersOf(poses, body);
    yield;
    between = Math.max(between, betweenPoses(corners, poses.count));
    yield;
    for (const [a, b] of yield* piecesOf(corners, poses.count, tolerance / 2)) {
      const both = [pointsAt(poses, body, a), ...(a === b ? [] : [pointsAt(poses, body, b)])];
      pieces.push(triangles.length / 9);
      for (const part of hullTriangles(both.flatMap((points) => [...points]))) triangles.push(part);
      if (triangles.length / 9 > MOST_TRIANGLES) return undefined;
      yield;
    }
  }
  // Half is what the pieces leave out, half what the outlines of round bodies do.
  return { triangles: Float32Array.from(triangles), pieces, tolerance: tolerance + between };
}

const CORNERS = 8;

/** The corners of the box about a body in its link's frame, in the set at each pose, shape (poses, 8, 3). */
function cornersOf({ count, links, rows }: Poses, { link, points }: SweptBody): Float64Array {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  points.forEach((part, i) => {
    low[i % 3] = Math.min(low[i % 3], part);
    high[i % 3] = Math.max(high[i % 3], part);
  });
  const out = new Float64Array(3 * CORNERS * count);
  for (let i = 0; i < count; i++) {
    for (let c = 0; c < CORNERS; c++) {
      const [x, y, z] = [0, 1, 2].map((k) => ((c >> k) & 1 ? high[k] : low[k]));
      place(rows, 12 * (links * i + link + 1), x, y, z, out, 3 * (CORNERS * i + c));
    }
  }
  return out;
}

function pointsAt({ links, rows }: Poses, { link, points }: SweptBody, pose: number): Float64Array {
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    place(rows, 12 * (links * pose + link + 1), points[i], points[i + 1], points[i + 2], out, i);
  }
  return out;
}

function place(r: Float64Array, at: number, x: number, y: number, z: number, out: Float64Array, k: number): void {
  for (let row = 0; row < 3; row++) {
    out[k + row] = r[at + 3 * row] * x + r[at + 3 * row + 1] * y + r[at + 3 * row + 2] * z + r[at + 9 + row];
  }
}

/** How far a corner may be off the chord between two neighbouring poses, as its second differences tell [m]. */
function betweenPoses(corners: Float64Array, count: number): number {
  let most = 0;
  const row = 3 * CORNERS;
  for (let i = 1; i + 1 < count; i++) {
    for (let k = 0; k < row; k += 3) {
      let sum = 0;
      for (let c = k; c < k + 3; c++)
        sum += (corners[row * (i - 1) + c] - 2 * corners[row * i + c] + corners[row * (i + 1) + c]) ** 2;
      most = Math.max(most, sum);
    }
  }
  return Math.sqrt(most) / 8;
}

/**
 * Pairs of poses whose hulls hold all poses between them within `slack`: where one comes out farther, the pair is parted
 * there. What a pose leaves out is a linear function of the body's points, so the corners of its box tell the most of it.
 */
function* piecesOf(corners: Float64Array, count: number, slack: number): Task<[number, number][]> {
  const pieces: [number, number][] = [];
  const open: [number, number][] = [[0, count - 1]];
  for (let pair = open.pop(); pair; pair = open.pop()) {
    const [a, b] = pair;
    const { pose, off, moved } = farthestOff(corners, a, b);
    yield;
    if (off > slack && b - a > 1) open.push([pose, b], [a, pose]);
    else if (moved === 0 && off === 0) pieces.push([a, a]);
    else pieces.push([a, b]);
  }
  return pieces;
}

function farthestOff(p: Float64Array, a: number, b: number): { pose: number; off: number; moved: number } {
  const row = 3 * CORNERS;
  let [lead, moved] = [0, 0];
  for (let k = 0; k < row; k += 3) {
    const way = Math.hypot(p[row * b + k] - p[row * a + k], p[row * b + k + 1] - p[row * a + k + 1], p[row * b + k + 2] - p[row * a + k + 2]); // prettier-ignore
    if (way > moved) [lead, moved] = [k, way];
  }
  let [pose, off] = [(a + b) >> 1, 0];
  for (let i = a + 1; i < b; i++) {
    let share = 0;
    if (moved > 0) {
      for (let c = lead; c < lead + 3; c++)
        share += (p[row * i + c] - p[row * a + c]) * (p[row * b + c] - p[row * a + c]);
      share = Math.min(Math.max(0, share / (moved * moved)), 1);
    }
    let most = 0;
    for (let k = 0; k < row; k += 3) {
      let sum = 0;
      for (let c = k; c < k + 3; c++)
        sum += (p[row * i + c] - (1 - share) * p[row * a + c] - share * p[row * b + c]) ** 2;
      if (sum > most) most = sum;
    }
    most = Math.sqrt(most);
    if (most > off) [pose, off] = [i, most];
  }
  return { pose, off, moved };
}

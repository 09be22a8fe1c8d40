import type { Convex } from "./convex.ts";
import { supportDifference, type Placing } from "./difference.ts";
import type { Gap } from "./gap.ts";
import { createPolytope, growPolytope, startPolytope, type Polytope } from "./polytope.ts";
import { nearestCores } from "./nearest-cores.ts";

/** Of the distance and the sizes: a face that no point of the difference is farther out than is on its border. */
const RELATIVE = 1e-9;
/** Of the same: thinner than this is flat. */
const FLAT = 1e-13;
/** Of the same: flat cores that are nearer than this touch. */
const TOUCHING = 2e-12;
/** Of the same: how far outside of the skin the place is that its nearest point is looked for from, and how well. */
const BEYOND = 0.1;
const SETTLED = 1e-12;
/** Rounds in which the direction may get better, and by how much of the same it has to for another one. */
const MOST_ROUNDS = 20;
const BETTER = 1e-15;
/** Corners of the inner body that a depth of overlap is found with. */
const MOST_CORNERS = 128;

/**
 * Writes the gap of two bodies whose cores overlap or touch: the least shift that parts them.
 *
 * A body of triangles grows inside the difference of the cores (van den Bergen, 2001). Its face nearest to the origin is a
 * lower bound of the depth; the difference's extent along that face's normal is a shift that parts the bodies, so an upper
 * one. The shift that is written always parts them, also where the corners run out before both bounds meet: round bodies
 * whose axes all but coincide, which part about equally well in all directions.
 *
 * @param reach Largest distance of a point of the difference from the origin, about [m].
 * @returns False, with nothing written, for a flat difference that is apart from the origin: the cores do not overlap.
 */
export function measureDepth(placing: Placing, a: Convex, b: Convex, out: Gap, reach: number): boolean {
  const polytope = polytopeOf(out);
  const isSolid = findSolid(placing, a, b, polytope, out, FLAT * reach);
  if (!isSolid && placing.distance > TOUCHING * reach) return false;
  const depth = isSolid ? leastExtent(placing, a, b, out, RELATIVE * reach) : 0;
  settle(placing, a, b, out, depth, reach);
  return true;
}

const polytopeOf = ({ work }: Gap): Polytope => (work.polytope ??= createPolytope(MOST_CORNERS));

/** Least extent of the difference that is found, with its direction in `out.along`, in the first body's frame. */
function leastExtent(placing: Placing, a: Convex, b: Convex, out: Gap, slack: number): number {
  const polytope = polytopeOf(out);
  const { normal, offset } = polytope;
  const { along } = out;
  let depth = Infinity;
  const tryDirection = (x: number, y: number, z: number): void => {
    const extent = extentAlong(placing, a, b, polytope, x, y, z);
    if (!(extent < depth)) return;
    depth = extent;
    along[0] = x;
    along[1] = y;
    along[2] = z;
  };
  // Bodies often stand along each other's axes, and round ones part across them: those directions are exact at once.
  const { turn, towards } = placing;
  for (let k = 0; k < 3; k++) {
    for (const sign of [1, -1]) {
      tryDirection(k === 0 ? sign : 0, k === 1 ? sign : 0, k === 2 ? sign : 0);
      tryDirection(sign * turn[k], sign * turn[k + 3], sign * turn[k + 6]);
    }
  }
  const tryAcross = (x: number, y: number, z: number): void => {
    const share = towards[0] * x + towards[1] * y + towards[2] * z;
    const u = towards[0] - share * x;
    const v = towards[1] - share * y;
    const w = towards[2] - share * z;
    const size = Math.sqrt(u * u + v * v + w * w);
    if (size > slack) tryDirection(u / size, v / size, w / size);
  };
  tryAcross(0, 0, 1);
  tryAcross(turn[2], turn[5], turn[8]);
  while (polytope.points < polytope.most) {
    const face = nearestFace(polytope);
    tryDirection(normal[3 * face], normal[3 * face + 1], normal[3 * face + 2]);
    if (depth - offset[face] <= slack || !growPolytope(polytope, face, slack / 10)) break;
  }
  return depth;
}

/** Writes the point of the difference farthest along a unit vector to the free place of the polytope; gives how far it is. */
function extentAlong(placing: Placing, a: Convex, b: Convex, p: Polytope, x: number, y: number, z: number): number {
  const slot = p.points;
  supportDifference(placing, a, b, x, y, z, p, slot);
  return x * p.w[3 * slot] + y * p.w[3 * slot + 1] + z * p.w[3 * slot + 2];
}

function nearestFace({ faces, alive, normal, offset }: Polytope): number {
  let nearest = 0;
  let least = Infinity;
  for (let face = 0; face < faces; face++) {
    if (alive[face] === 0 || !(offset[face] < least)) continue;
    if (normal[3 * face] === 0 && normal[3 * face + 1] === 0 && normal[3 * face + 2] === 0) continue;
    least = offset[face];
    nearest = face;
  }
  return nearest;
}

/**
 * Four points of the difference that span a solid. Where it has none, `along` is across it: the bodies can be parted that
 * way by no shift at all but for their roundings.
 */
function findSolid(placing: Placing, a: Convex, b: Convex, p: Polytope, { along }: Gap, flat: number): boolean {
  const { w } = p;
  const extent = (x: number, y: number, z: number, slot: number): number => {
    supportDifference(placing, a, b, x, y, z, p, slot);
    const i = 3 * slot;
    return x * (w[i] - w[0]) + y * (w[i + 1] - w[1]) + z * (w[i + 2] - w[2]);
  };
  const isWide = (x: number, y: number, z: number, slot: number): boolean => {
    along.set([x, y, z]);
    return extent(x, y, z, slot) > flat || extent(-x, -y, -z, slot) > flat;
  };
  supportDifference(placing, a, b, -1, 0, 0, p, 0);
  if (!(isWide(1, 0, 0, 1) || isWide(0, 1, 0, 1) || isWide(0, 0, 1, 1))) return false;
  const line = unit(w[3] - w[0], w[4] - w[1], w[5] - w[2]);
  const [ux, uy, uz] = across(line);
  const other = unit(line[1] * uz - line[2] * uy, line[2] * ux - line[0] * uz, line[0] * uy - line[1] * ux);
  if (!(isWide(ux, uy, uz, 2) || isWide(other[0], other[1], other[2], 2))) return false;
  const [vx, vy, vz] = [w[6] - w[0], w[7] - w[1], w[8] - w[2]];
  const up = unit(line[1] * vz - line[2] * vy, line[2] * vx - line[0] * vz, line[0] * vy - line[1] * vx);
  if (!isWide(up[0], up[1], up[2], 3)) return false;
  startPolytope(p);
  return true;
}

function unit(x: number, y: number, z: number): [number, number, number] {
  const size = Math.hypot(x, y, z);
  return [x / size, y / size, z / size];
}

/** A unit vector across another. */
function across([x, y, z]: readonly number[]): [number, number, number] {
  if (Math.abs(x) <= Math.abs(y) && Math.abs(x) <= Math.abs(z)) return unit(0, -z, y);
  return Math.abs(y) <= Math.abs(z) ? unit(z, 0, -x) : unit(-y, x, 0);
}

/**
 * Writes the gap for a depth along `out.along`. The difference's nearest point to a place beyond its skin gives the points of
 * both bodies, and a better direction where the one that is known is not the least.
 */
function settle(placing: Placing, a: Convex, b: Convex, out: Gap, known: number, reach: number): void {
  const polytope = polytopeOf(out);
  const { simplex } = out.work;
  const { along } = out;
  const { at, nearest } = placing;
  const x0 = at[0];
  const y0 = at[1];
  const z0 = at[2];
  // The place that a search uses for a direction that it tries must be free.
  polytope.points = Math.min(polytope.points, polytope.most - 1);
  let depth = known;
  for (let round = 0; ; round++) {
    const beyond = depth + BEYOND * reach;
    at[0] = x0 + beyond * along[0];
    at[1] = y0 + beyond * along[1];
    at[2] = z0 + beyond * along[2];
    nearestCores(placing, a, b, simplex, along, SETTLED * reach, Infinity);
    at[0] = x0;
    at[1] = y0;
    at[2] = z0;
    for (let k = 0; k < 3; k++) nearest[6 + k] -= beyond * along[k];
    if (round === MOST_ROUNDS) break;
    const x = -nearest[0] / placing.distance;
    const y = -nearest[1] / placing.distance;
    const z = -nearest[2] / placing.distance;
    const extent = extentAlong(placing, a, b, polytope, x, y, z);
    if (!(extent < depth - BETTER * reach)) break;
    depth = extent;
    along[0] = x;
    along[1] = y;
    along[2] = z;
  }
  writeDepth(placing, a, b, depth, out);
}

/** From the cores' depth along `out.along`, in the first body's frame, to the bodies' gap in the set's. */
function writeDepth(
  { rotation: r, position: p, nearest }: Placing,
  a: Convex,
  b: Convex,
  depth: number,
  out: Gap,
): void {
  const [x, y, z] = out.along;
  out.distance = -(depth + a.rounding + b.rounding);
  const u = nearest[3] + x * a.rounding;
  const v = nearest[4] + y * a.rounding;
  const w = nearest[5] + z * a.rounding;
  for (let k = 0; k < 3; k++) {
    out.along[k] = r[3 * k] * x + r[3 * k + 1] * y + r[3 * k + 2] * z;
    out.from[k] = p[k] + r[3 * k] * u + r[3 * k + 1] * v + r[3 * k + 2] * w;
    out.to[k] = out.from[k] + out.distance * out.along[k];
  }
}

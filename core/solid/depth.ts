import type { Convex } from "./convex.ts";
import { supportDifference, type Placing } from "./difference.ts";
import type { Gap } from "./gap.ts";
import { growPolytope, startPolytope, type Polytope } from "./polytope.ts";
import { findThoroughly, keepNearest } from "./simplex.ts";

/** Of the distance and the sizes: a face that no point of the difference is farther out than is on its border. */
const RELATIVE = 1e-11;
/** Of the same: thinner than this is flat. */
const FLAT = 1e-13;
/** Of the same: flat cores that are nearer than this touch. */
const TOUCHING = 2e-12;

/**
 * Writes the gap of two bodies whose cores overlap or touch: the least shift that parts them.
 *
 * A body of triangles grows inside the difference of the cores. Its face nearest to the origin is a lower bound of the
 * depth; the difference's extent along that face's normal is a shift that parts the bodies, so an upper one. The shift that
 * is written always parts them, also where the corners run out before both bounds meet: round bodies whose axes all but
 * coincide, which part about equally well in all directions.
 *
 * @param size  Distance of the cores as far as it is known, 0 for cores that overlap [m].
 * @param reach Largest distance of a point of the difference from the origin, about [m].
 * @returns False, with nothing written, for a flat difference that is apart from the origin: the cores do not overlap.
 */
export function measureDepth(placing: Placing, a: Convex, b: Convex, size: number, out: Gap, reach: number): boolean {
  const { polytope, simplex } = out.work;
  if (!findSolid(placing, a, b, polytope, out, FLAT * reach)) {
    if (size > TOUCHING * reach) return false;
    writeDepth(placing, a, b, 0, out);
    return true;
  }
  const { w, normal, offset } = polytope;
  const slack = RELATIVE * reach;
  let depth = Infinity;
  for (;;) {
    const face = nearestFace(polytope);
    const x = normal[3 * face];
    const y = normal[3 * face + 1];
    const z = normal[3 * face + 2];
    const slot = polytope.points;
    if (slot === polytope.most) break;
    supportDifference(placing, a, b, x, y, z, polytope, slot);
    const extent = x * w[3 * slot] + y * w[3 * slot + 1] + z * w[3 * slot + 2];
    if (extent < depth) {
      depth = extent;
      keepFace(polytope, face, out);
    }
    if (depth - offset[face] <= slack || !growPolytope(polytope, face, slack / 10)) break;
  }
  findThoroughly(simplex);
  keepNearest(simplex);
  writeDepth(placing, a, b, depth, out);
  return true;
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

/** Keeps a face's normal as the direction, and its corners as the simplex that the points of the bodies are between. */
function keepFace({ corner, normal, w, a, b }: Polytope, face: number, { along, work: { simplex } }: Gap): void {
  simplex.count = 3;
  for (let k = 0; k < 3; k++) {
    along[k] = normal[3 * face + k];
    const from = 3 * corner[3 * face + k];
    for (let axis = 0; axis < 3; axis++) {
      simplex.w[3 * k + axis] = w[from + axis];
      simplex.a[3 * k + axis] = a[from + axis];
      simplex.b[3 * k + axis] = b[from + axis];
    }
  }
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

/** From the cores' depth along `out.along`, in the first body's frame, to the bodies' gap in the set's. */
function writeDepth({ rotation: r, position: p }: Placing, a: Convex, b: Convex, depth: number, out: Gap): void {
  const { simplex } = out.work;
  const [x, y, z] = out.along;
  out.distance = -(depth + a.rounding + b.rounding);
  let u = x * a.rounding;
  let v = y * a.rounding;
  let w = z * a.rounding;
  for (let i = 0; i < simplex.count; i++) {
    u += simplex.share[i] * simplex.a[3 * i];
    v += simplex.share[i] * simplex.a[3 * i + 1];
    w += simplex.share[i] * simplex.a[3 * i + 2];
  }
  for (let k = 0; k < 3; k++) {
    out.along[k] = r[3 * k] * x + r[3 * k + 1] * y + r[3 * k + 2] * z;
    out.from[k] = p[k] + r[3 * k] * u + r[3 * k + 1] * v + r[3 * k + 2] * w;
    out.to[k] = out.from[k] + out.distance * out.along[k];
  }
}

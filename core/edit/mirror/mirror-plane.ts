import { length, scale, subtract, type Vec2, type Vec3 } from "../../base/vec3.ts";
import type { ResolvedMove, ResolvedTarget } from "../../motion/resolved-move.ts";

/** An upright plane of the set: through `at` [m], square to the unit vector `across`. */
export interface Plane {
  readonly at: Vec2;
  readonly across: Vec2;
}

/** A point of the set as it is seen in the plane [m]. */
export function mirroredPoint([x, y, z]: Vec3, { at, across }: Plane): Vec3 {
  const far = 2 * ((x - at[0]) * across[0] + (y - at[1]) * across[1]);
  return [x - far * across[0], y - far * across[1], z];
}

/** A direction of the set as it is seen in the plane. */
export function mirroredVector(vector: Vec3, { across }: Plane): Vec3 {
  return mirroredPoint(vector, { at: [0, 0], across });
}

/** The upright plane through a point along a direction of the floor, of any length. */
export function planeAlong(at: Vec2, [x, y]: Vec2): Plane {
  const size = Math.hypot(x, y);
  // Never -0, which would be written as such.
  return { at, across: [-y / size + 0, x / size + 0] };
}

export function isSamePlane(one: Plane, other: Plane): boolean {
  const off = (other.at[0] - one.at[0]) * one.across[0] + (other.at[1] - one.at[1]) * one.across[1];
  const cross = one.across[0] * other.across[1] - one.across[1] * other.across[0];
  return Math.abs(off) < NEAR && Math.abs(cross) < NEAR;
}

/** How far places may be apart that count as one [m]. */
const NEAR = 1e-6;

/** The target that stands for another in the mirror, by index; -1 where the set has none. */
export function partnerOf(move: ResolvedMove, target: number, plane: Plane): number {
  const own = move.targets[target];
  const isThere = (other: ResolvedTarget, at: Vec3, to: Vec3): boolean =>
    other.on === own.on && length(subtract(at, to)) < NEAR;
  if (own.on !== undefined && !isOnPlane(move, own.on, plane)) return -1;
  // On a turntable places count in its own directions, which are the set's at 0.
  const seen = (place: Vec3): Vec3 =>
    own.on === undefined ? mirroredPoint(place, plane) : mirroredVector(place, plane);
  const fits = (other: ResolvedTarget): boolean => {
    const { follow = [] } = own;
    const [mine, its] = [follow, other.follow ?? []];
    if (mine.length !== its.length || !isThere(other, seen(own.at), other.at)) return false;
    return mine.every(({ time, to }, i) => Math.abs(its[i].time - time) < NEAR && isThere(other, seen(to), its[i].to));
  };
  // What lies on the plane is its own partner, whatever else is there.
  return fits(own) ? target : move.targets.findIndex(fits);
}

/** Whether a turntable is itself in the mirror: its axis lies in the plane, or is square to it. */
export function isOnPlane({ turntables }: ResolvedMove, table: number, plane: Plane): boolean {
  const { at, along } = turntables[table];
  const seen = mirroredVector(along, plane);
  const isKept = length(subtract(seen, along)) < NEAR || length(subtract(seen, scale(along, -1))) < NEAR;
  return isKept && length(subtract(mirroredPoint(at, plane), at)) < NEAR;
}

import { writeBodyBounds, type MotionBounds } from "./motion-bounds.ts";
import { apartAlong, FLOOR, measurePair, roughGap, type PairRoom, type Pairs } from "./pairs.ts";
import type { Placed, Space } from "./space.ts";

/** What looking at pairs over a span of time needs. */
export interface Look {
  readonly space: Space;
  readonly pairs: Pairs;
  readonly bounds: MotionBounds;
  readonly room: PairRoom;
  /** Of the pair looked at last: its distance in the middle of the span, Infinity when that was not needed [m] … */
  distance: number;
  /** … how much it can be away from that within the span … */
  shift: number;
  /** … and what it is not below at the span's beginning and end, where that was needed, else NaN [m]. */
  first: number;
  last: number;
}

/**
 * A distance that a pair does not fall below from `a.t` to `b.t`, `m` in the middle; of `enough` or more where that could
 * be proven [m]. Two proofs, of which the better one counts: no point moves farther than `shift`; and along the direction
 * between both, fixed to what they are seen from, the way of each point is off the chords of both halves by bend · half² / 8
 * at most.
 */
export function lowerBound(look: Look, idx: number, a: Placed, m: Placed, b: Placed, enough: number): number {
  const { space, pairs, bounds, room } = look;
  const level = pairs.level[idx];
  const one = pairs.a[idx];
  const other = pairs.b[idx];
  const levels = space.chain.count + 1;
  writeBodyBounds(bounds, space, m, one);
  let shift = bounds.shift[one * levels + level];
  let bend = bounds.bend[one * levels + level];
  if (other !== FLOOR) {
    writeBodyBounds(bounds, space, m, other);
    shift += bounds.shift[other * levels + level];
    bend += bounds.bend[other * levels + level];
  }
  look.shift = shift;
  look.distance = Infinity;
  look.first = NaN;
  look.last = NaN;
  const rough = roughGap(space, pairs, idx, m) - shift;
  if (enough <= rough) return rough;
  const distance = measurePair(space, pairs, idx, m, room, enough + shift, "unknown");
  if (room.gap.bound) return distance - shift;
  look.distance = distance;
  // Between bodies that overlap there is no direction to prove anything along.
  if (distance <= 0) return distance - shift;
  const half = Math.max(m.t - a.t, b.t - m.t);
  const sag = 0 < half ? (bend * half * half) / 8 : 0;
  const linear = distance - shift;
  if (enough <= linear || distance - sag <= linear) return linear;
  look.first = endApart(look, idx, m, a);
  look.last = endApart(look, idx, m, b);
  return Math.max(linear, Math.min(look.first, distance, look.last) - sag);
}

/** How far a pair is apart at an end of the span along the direction that was measured in the middle [m]. */
function endApart({ space, pairs, room }: Look, idx: number, m: Placed, end: Placed): number {
  const n = room.gap.along;
  const { normal } = room;
  const at = 9 * (pairs.level[idx] - 1);
  if (at < 0) return apartAlong(space, pairs, idx, end, n, room);
  const before = m.pose.rotations;
  const after = end.pose.rotations;
  normal.fill(0);
  for (let k = 0; k < 3; k++) {
    const own = before[at + k] * n[0] + before[at + 3 + k] * n[1] + before[at + 6 + k] * n[2];
    for (let row = 0; row < 3; row++) normal[row] += after[at + 3 * row + k] * own;
  }
  return apartAlong(space, pairs, idx, end, normal, room);
}

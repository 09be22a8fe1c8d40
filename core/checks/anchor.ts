import { NO_ORIGIN, type OriginId } from "../base/origin-id.ts";
import { leavesAt } from "../motion/key-timing.ts";
import type { ResolvedKey, ResolvedMove } from "../motion/resolved-move.ts";
import type { Side, Trajectory } from "../motion/trajectory.ts";
import type { Finding } from "./finding.ts";

/**
 * The key whose text causes what happens at one time. A time between key k and key k+1 belongs to key k+1: its time, its
 * values and its aim are what one edits to change how the camera gets there. A time at a key, or in its hold, belongs to
 * that key.
 */
export interface Anchor {
  /** Position of the key in `move.keys`. */
  readonly key: number;
  /** The key that begins the segment; equal to `key` at a key itself or before the first. */
  readonly from: number;
  readonly origin: OriginId;
}

/** [s] Nearer than this to a key's time is at the key. */
const AT_KEY = 1e-6;

/** The key that `t` belongs to among `keys` (positions in `move.keys`, ascending, not empty). */
export const keyAt = (move: ResolvedMove, keys: readonly number[], t: number, side?: Side): Anchor =>
  anchorAmong(move, keys.length, (i) => keys[i], t, side);

/** The same among all keys. */
export const anyKeyAt = (move: ResolvedMove, t: number, side?: Side): Anchor =>
  anchorAmong(move, move.keys.length, (i) => i, t, side);

/** Among `count` keys, of which the i-th is that at position `at(i)` of the move. */
function anchorAmong(move: ResolvedMove, count: number, at: (i: number) => number, t: number, side?: Side): Anchor {
  const origin = (key: number): OriginId => move.keys[key].timeOrigin || move.keys[key].origin;
  for (let i = 0; i < count; i++) {
    const leaves = leavesAt(move.keys[at(i)]);
    if (t > leaves + AT_KEY) continue;
    const isAtKey = Math.abs(t - leaves) <= AT_KEY;
    // What happens just after a key belongs to the segment that begins there.
    if (isAtKey && side === "right" && i + 1 < count) {
      return { key: at(i + 1), from: at(i), origin: origin(at(i + 1)) };
    }
    const isHeld = !isAtKey && move.keys[at(i)].time + AT_KEY < t;
    return { key: at(i), from: at(isHeld ? i : Math.max(0, i - 1)), origin: origin(at(i)) };
  }
  const last = at(count - 1);
  return { key: last, from: last, origin: origin(last) };
}

/**
 * The key that moves `axis` at `t`. A keyed axis belongs to the keys that state it, a follower to its leader's keys, a
 * solved axis to all keys. The origin is the axis's own value in the key, else what `solvedBy` takes of the key, else its time.
 */
export function axisAnchor(
  trajectory: Trajectory,
  axis: number,
  t: number,
  side?: Side,
  solvedBy?: (key: ResolvedKey) => OriginId | undefined,
): Anchor {
  const { move, sources } = trajectory;
  const driver = leaderOf(move, axis);
  const states = (key: ResolvedKey): boolean => key.axes.some((entry) => entry.axis === driver);
  const stating = sources[driver] === "keyed" ? move.keys.flatMap((key, idx) => (states(key) ? [idx] : [])) : [];
  const anchor = stating.length > 0 ? keyAt(move, stating, t, side) : anyKeyAt(move, t, side);
  const key = move.keys[anchor.key];
  const own = key.axes.find((entry) => entry.axis === driver)?.origin;
  return { ...anchor, origin: own || solvedBy?.(key) || anchor.origin };
}

/** The axis that drives `axis`: itself, or the leader at the end of its chain of leaders. */
export function leaderOf(move: ResolvedMove, axis: number): number {
  let current = axis;
  for (let step = 0; step < move.axes.length; step++) {
    const follows = move.rig.joints[move.axes[current].joint]?.follows;
    if (!follows) return current;
    const leader = move.axes.findIndex((one) => one.joint === follows.leader);
    if (leader < 0) return current;
    current = leader;
  }
  return current;
}

/** The two keys of a segment as related places. */
export function segmentKeys(move: ResolvedMove, anchor: Anchor): Finding["related"] {
  if (anchor.from === anchor.key) return [];
  return [
    { origin: keyPlace(move.keys[anchor.from]), note: "from-key" },
    { origin: keyPlace(move.keys[anchor.key]), note: "to-key" },
  ];
}

const keyPlace = (key: ResolvedKey): OriginId => key.timeOrigin || key.origin || NO_ORIGIN;

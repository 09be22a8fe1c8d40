import { writtenAt } from "./clock.ts";
import { keyTimingOf, leavesAt } from "./key-timing.ts";
import type { ResolvedMove } from "./resolved-move.ts";

/** A way that must last so long that two ramps find room in it: from leaving one key to reaching a later one. */
export interface RampRoom {
  readonly from: number;
  readonly to: number;
  /** In time before the speeds of keys [s]. */
  readonly least: number;
}

/**
 * What room the ramps of a move need. A channel may run past keys that don't give it: of the ways that end at a key the
 * shortest is taken that has room for its ramps now.
 */
export function rampRooms(move: ResolvedMove): RampRoom[] {
  const lasts = lastsIn(move);
  return move.keys.flatMap((key, to) => {
    const { ease, switch: change } = key;
    const needs = [
      ease && ease.kind !== "minimum-jerk" ? 2 * (ease.ramp ?? 0) : 0,
      change?.ease && change.ease.kind !== "minimum-jerk"
        ? (2 * (change.ease.ramp ?? 0)) / (change.end - change.begin)
        : 0,
    ];
    return needs.flatMap((least): RampRoom[] => {
      if (!(0 < least)) return [];
      for (let from = to - 1; 0 <= from; from--) if (least <= lasts(from, to) + ROUNDING) return [{ from, to, least }];
      return [];
    });
  });
}

/** By key: by which factor its way would have to be stretched for the ramps on it; less than 1 where there is room. */
export function rampNeeds(move: ResolvedMove, rooms: readonly RampRoom[]): readonly number[] {
  const lasts = lastsIn(move);
  const needs = new Array<number>(move.keys.length).fill(0);
  for (const { from, to, least } of rooms) {
    const need = (least - ROUNDING) / lasts(from, to);
    for (let key = from + 1; key <= to; key++) needs[key] = Math.max(needs[key], need);
  }
  return needs;
}

/** Rounding of times [s]. */
const ROUNDING = 1e-9;

function lastsIn({ keys }: ResolvedMove): (from: number, to: number) => number {
  const { clock } = keyTimingOf(keys);
  return (from, to) => writtenAt(clock, keys[to].time) - writtenAt(clock, leavesAt(keys[from]));
}

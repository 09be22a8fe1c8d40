import { knotAt, layKnots, type KeyTiming } from "./key-timing.ts";
import type { TrackList } from "./move-model.ts";
import { constantCurve } from "./piecewise.ts";
import type { ResolvedKey, ResolvedMove } from "./resolved-move.ts";

/** Framing, focal length, iris and the roll about the view: channels with keys of their own. */
export function layLens(
  move: ResolvedMove,
  timing: KeyTiming,
  tracks: TrackList,
): { across: number; down: number; focal: number; iris: number; roll: number } {
  const lay = (read: (key: ResolvedKey) => number | undefined, otherwise: number): number => {
    const knots = move.keys.flatMap((key) => {
      const value = read(key);
      return value === undefined ? [] : [knotAt(key, value)];
    });
    return tracks.add(knots.length === 0 ? constantCurve(otherwise) : layKnots(knots, timing));
  };
  const { focal, iris } = move.optics;
  return {
    across: lay((key) => key.framing?.[0], 0.5),
    down: lay((key) => key.framing?.[1], 0.5),
    focal: lay((key) => key.zoom?.focal, focal.low),
    iris: lay((key) => key.iris?.value, iris),
    roll: lay((key) => (move.rig.head || !key.roll ? undefined : key.roll.kind === "angle" ? key.roll.angle : 0), 0),
  };
}

import { goOver, statedAt } from "./aim-timeline.ts";
import { joinCurves } from "./join-curves.ts";
import { knotAt, layKnots, type KeyTiming } from "./key-timing.ts";
import type { FocusSpan, TrackList } from "./move-model.ts";
import { constantCurve, type Piecewise } from "./piecewise.ts";
import type { ResolvedKey } from "./resolved-move.ts";
import { switchCurve } from "./switch-curve.ts";

/**
 * What focus follows when. Set distances are a channel of their own (`track`); between a key that focuses on one thing
 * and the next that focuses on another, the distance goes over smoothly. Before the first key that says so, the first
 * holds. No spans when no key gives a focus.
 */
export function focusSpans(
  keys: readonly ResolvedKey[],
  duration: number,
  timing: KeyTiming,
  tracks: TrackList,
): { readonly spans: FocusSpan[]; readonly track: number } {
  const set = keys.flatMap((key) => (key.focus?.kind === "distance" ? [knotAt(key, key.focus.distance)] : []));
  const track = tracks.add(set.length === 0 ? constantCurve(0) : layKnots(set, timing));
  // Targets count from 1 here and a set distance is 0, so that "nothing" stays apart.
  const stated = keys.flatMap((key) =>
    key.focus ? [statedAt(key, key.focus.kind === "target" ? key.focus.target + 1 : 0)] : [],
  );
  if (stated.length === 0) return { spans: [], track };
  stated[0] = { ...stated[0], time: 0 };
  const shares = tracks.add(constantCurve(0));
  const switches: Piecewise[] = [];
  const spans = goOver(stated, duration, timing).map((stretch): FocusSpan => {
    const goesOver = stretch.fromTarget !== stretch.toTarget;
    if (goesOver) switches.push(switchCurve(stretch, timing));
    return {
      start: stretch.start,
      end: stretch.end,
      from: stretch.fromTarget - 1,
      to: stretch.toTarget - 1,
      share: goesOver ? shares : -1,
    };
  });
  tracks.curves[shares] = joinCurves(switches);
  return { spans, track };
}

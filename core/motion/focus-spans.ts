import { goOver } from "./aim-timeline.ts";
import { joinCurves } from "./join-curves.ts";
import { keyedCurve } from "./keyed-curve.ts";
import type { FocusSpan, TrackList } from "./move-model.ts";
import { constantCurve, type Piecewise } from "./piecewise.ts";
import type { ResolvedKey } from "./resolved-move.ts";

/**
 * What focus follows when. Set distances are a channel of their own (`track`); between a key that focuses on one thing
 * and the next that focuses on another, the distance goes over smoothly. Before the first key that says so, the first
 * holds. No spans when no key gives a focus.
 */
export function focusSpans(
  keys: readonly ResolvedKey[],
  duration: number,
  stops: readonly number[],
  tracks: TrackList,
): { readonly spans: FocusSpan[]; readonly track: number } {
  const set = keys.flatMap((key) =>
    key.focus?.kind === "distance" ? [{ time: key.time, value: key.focus.distance, rest: key.stop }] : [],
  );
  const track = tracks.add(set.length === 0 ? constantCurve(0) : keyedCurve(set, stops));
  // Targets count from 1 here and a set distance is 0, so that "nothing" stays apart.
  const stated = keys.flatMap((key) =>
    key.focus ? [{ time: key.time, target: key.focus.kind === "target" ? key.focus.target + 1 : 0 }] : [],
  );
  if (stated.length === 0) return { spans: [], track };
  stated[0] = { ...stated[0], time: 0 };
  const shares = tracks.add(constantCurve(0));
  const switches: Piecewise[] = [];
  const spans = goOver(stated, duration).map((stretch): FocusSpan => {
    const knots = [
      { time: stretch.start, value: 0, rest: true },
      { time: stretch.end, value: 1, rest: true },
    ];
    const goesOver = stretch.fromTarget !== stretch.toTarget;
    if (goesOver) switches.push(keyedCurve(knots));
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

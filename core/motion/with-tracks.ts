import type { MoveModel } from "./move-model.ts";
import type { Piecewise } from "./piecewise.ts";
import { intervalAt, layTracks } from "./tracks.ts";

/** The model with other curves. They may have knots of their own, so what is known by interval is told again. */
export function withCurves(model: MoveModel, curves: readonly Piecewise[]): MoveModel {
  const tracks = layTracks(curves, model.duration, [...model.tracks.knots]);
  const old = Array.from({ length: tracks.knots.length - 1 }, (_, i) =>
    intervalAt(model.tracks, (tracks.knots[i] + tracks.knots[i + 1]) / 2, "right"),
  );
  const again = (table: Int32Array): Int32Array => Int32Array.from(old, (interval) => table[interval]);
  return {
    ...model,
    tracks,
    spanOf: again(model.spanOf),
    focusOf: again(model.focusOf),
    pathOf: again(model.pathOf),
  };
}

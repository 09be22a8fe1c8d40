import type { Task } from "../base/task.ts";
import type { Vec3 } from "../base/vec3.ts";
import { baseFrame, compileRig } from "../rig/chain.ts";
import { restValues } from "./axis-values.ts";
import { solveCameraKeys, type CameraKeys, type CameraKeyTask } from "./camera-keys.ts";
import type { Knot } from "./keyed-curve.ts";
import type { AimSpan, MoveModel } from "./move-model.ts";
import { createPathRoom, writePathPlace } from "./path-series.ts";
import type { PathPiece } from "./path-piece.ts";
import type { ResolvedKey } from "./resolved-move.ts";
import { ROOM } from "./series.ts";
import { createTargetRoom } from "./target-series.ts";
import { intervalAt, writeStill, writeTracks } from "./tracks.ts";

/** Where a path has the pupil at a time [m]; `side`: which piece counts at a knot. Nothing off all paths. */
export function pathPlaceAt(model: MoveModel, time: number, side: "left" | "right"): Vec3 | undefined {
  const interval = intervalAt(model.tracks, time, side);
  const piece: PathPiece | undefined = model.pathPieces[model.pathOf[interval]];
  if (!piece) return undefined;
  const series = new Float64Array(model.tracks.curves.length * ROOM);
  writeStill(model.tracks, series);
  writeTracks(model.tracks, interval, time, 0, series);
  const out = new Float64Array(3 * ROOM);
  writePathPlace(piece, model.targets, series, model.travel, 0, createPathRoom(), createTargetRoom(), out, 0);
  return [out[0], out[ROOM], out[2 * ROOM]];
}

/**
 * What the rig can do by itself at instants of a path: solved as a camera key at the place that the path has there, the
 * axes near where their keys lead.
 */
export function* reachPath(
  model: MoveModel,
  aims: readonly AimSpan[],
  keyed: readonly (readonly Knot[])[],
  times: readonly number[],
): Task<CameraKeys> {
  const { move } = model;
  const keys = times.map((time): ResolvedKey => {
    const at = pathPlaceAt(model, time, "left") ?? [NaN, NaN, NaN];
    const camera = { kind: "at", at, origin: 0 } as const;
    return { label: "", time, stop: false, axes: [], camera, framingOrigin: 0, origin: 0, timeOrigin: 0 };
  });
  const task: CameraKeyTask = {
    ...model,
    move: { ...move, keys },
    chain: compileRig(move.rig),
    base: baseFrame(move.base),
    spans: aims,
    rest: restValues(move),
  };
  return yield* solveCameraKeys(task, keyed);
}

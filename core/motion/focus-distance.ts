import type { CameraRoom } from "./camera-pose.ts";
import { createFocusSeriesRoom, writeFocusSeries, type FocusSeriesRoom } from "./focus-series.ts";
import type { FocusSpan, MoveModel } from "./move-model.ts";
import type { MovingChain } from "./moving-chain.ts";
import { createPupilSeriesRoom, pupilSeriesTerm, pupilTermOf, type PupilSeriesRoom } from "./pupil-series.ts";
import { ROOM } from "./series.ts";
import { writeTarget, type TargetRoom } from "./target-series.ts";

/** What reading focus and pupil off a posed camera writes. */
export interface FocusRoom {
  /** Distance from the sensor plane as a series, shape (ROOM,), orders 0 to 3 [m]. NaN when no key gives one. */
  readonly distance: Float64Array;
  /** Distances of both things that focus goes over between, shape (2,) [m]. */
  readonly ends: Float64Array;
  readonly pupil: PupilSeriesRoom;
  readonly target: TargetRoom;
  readonly place: Float64Array;
  readonly rates: FocusSeriesRoom;
}

/** @param target Room that is shared with whoever else places targets at the same instant. */
export function createFocusRoom(chain: MovingChain, target: TargetRoom): FocusRoom {
  return {
    distance: new Float64Array(ROOM),
    ends: new Float64Array(2),
    pupil: createPupilSeriesRoom(),
    target,
    place: new Float64Array(3 * ROOM),
    rates: createFocusSeriesRoom(chain),
  };
}

/**
 * Focus distance of a posed camera into `room.distance[0]`, along the view from the sensor plane: the flange is `flange`
 * in front of that, wherever the pupil is.
 */
export function writeFocusDistance(
  model: MoveModel,
  room: FocusRoom,
  series: Float64Array,
  camera: CameraRoom,
  interval: number,
): void {
  const { distance, ends } = room;
  const span: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  distance[0] = NaN;
  if (!span) return;
  writeEnd(model, room, series, camera, span.from, 0);
  distance[0] = ends[0];
  if (span.share < 0) return;
  writeEnd(model, room, series, camera, span.to, 1);
  distance[0] += series[span.share * ROOM] * (ends[1] - ends[0]);
}

/** Orders 1 to 3 of the focus distance into `room.distance`, from `series` alone; order 0 stays as the posed camera has it. */
export function writeFocusRates(
  model: MoveModel,
  chain: MovingChain,
  room: FocusRoom,
  series: Float64Array,
  interval: number,
): void {
  writeFocusSeries(model, chain, room.rates, series, interval);
  for (let k = 1; k < ROOM - 1; k++) room.distance[k] = room.rates.distance[k];
}

/**
 * Pupil in front of the flange and its rate [m, m/s]: of order 0, then on request of order 1. `writeFocusDistance` must
 * have run, and for order 1 `writeFocusRates`, unless the pupil of the move stands still.
 */
export function posedPupilTerm(
  model: MoveModel,
  room: FocusRoom,
  series: Float64Array,
  interval: number,
  k: 0 | 1,
): number {
  const { pupil } = model.move.optics;
  if (!Number.isNaN(model.stillPupil) || pupil.near.length === 1) {
    return pupilTermOf(model, room.pupil, series, interval, k);
  }
  return pupilSeriesTerm(pupil, room.pupil, series, model.focal * ROOM, room.distance, 0, k);
}

function writeEnd(
  model: MoveModel,
  room: FocusRoom,
  series: Float64Array,
  camera: CameraRoom,
  target: number,
  to: 0 | 1,
): void {
  const { ends, place } = room;
  if (target < 0) {
    ends[to] = series[model.focus * ROOM];
    return;
  }
  writeTarget(model.targets[target], series, 0, room.target, place, 0);
  ends[to] = model.move.optics.flange;
  for (let axis = 0; axis < 3; axis++) {
    ends[to] += camera.rotation[3 * axis] * (place[axis * ROOM] - camera.flange[axis]);
  }
}

import { writeVelocity, type CameraRoom } from "./camera-pose.ts";
import type { FocusSpan, MoveModel } from "./move-model.ts";
import type { MovingChain } from "./moving-chain.ts";
import { createPupilSeriesRoom, pupilSeriesTerm, pupilTermOf, type PupilSeriesRoom } from "./pupil-series.ts";
import { ROOM } from "./series.ts";
import { createTargetRoom, writeTarget, type TargetRoom } from "./target-series.ts";

/** What reading focus and pupil off a posed camera writes. */
export interface FocusRoom {
  /** Distance from the sensor plane and its rate, (ROOM,) of which two are used [m, m/s]. NaN when no key gives one. */
  readonly distance: Float64Array;
  /** The same of both things that focus goes over between, (2, 2). */
  readonly ends: Float64Array;
  readonly pupil: PupilSeriesRoom;
  readonly target: TargetRoom;
  readonly place: Float64Array;
  /** The flange, and a point 1 m ahead of it, and how fast both go, (3,) each. */
  readonly ahead: Float64Array;
  readonly speed: Float64Array;
  readonly aheadSpeed: Float64Array;
}

export function createFocusRoom(): FocusRoom {
  return {
    distance: new Float64Array(ROOM),
    ends: new Float64Array(4),
    pupil: createPupilSeriesRoom(),
    target: createTargetRoom(),
    place: new Float64Array(3 * ROOM),
    ahead: new Float64Array(3),
    speed: new Float64Array(3),
    aheadSpeed: new Float64Array(3),
  };
}

/**
 * Focus distance of a posed camera into `room.distance`, along the view from the sensor plane: the flange is `flange` in
 * front of that, wherever the pupil is.
 *
 * @param chain Whose camera is posed.
 * @param order 0, or 1 for its rate too.
 */
export function writeFocusDistance(
  model: MoveModel,
  chain: MovingChain,
  room: FocusRoom,
  series: Float64Array,
  camera: CameraRoom,
  interval: number,
  order: 0 | 1,
): void {
  const { distance, ends } = room;
  const span: FocusSpan | undefined = model.focusSpans[model.focusOf[interval]];
  distance[0] = distance[1] = span ? 0 : NaN;
  if (!span) return;
  if (order === 1 && (0 <= span.from || 0 <= span.to)) writeTurning(chain, room, series, camera);
  writeEnd(model, room, series, camera, span.from, 0, order);
  distance[0] = ends[0];
  distance[1] = ends[1];
  if (span.share < 0) return;
  writeEnd(model, room, series, camera, span.to, 2, order);
  const at = span.share * ROOM;
  distance[0] += series[at] * (ends[2] - ends[0]);
  distance[1] += series[at] * (ends[3] - ends[1]) + series[at + 1] * (ends[2] - ends[0]);
}

/**
 * Pupil in front of the flange and its rate [m, m/s]: of order 0, then on request of order 1. `writeFocusDistance` must
 * have run for both orders, unless the pupil of the move stands still.
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
  to: 0 | 2,
  order: 0 | 1,
): void {
  const { ends, place, speed, aheadSpeed } = room;
  if (target < 0) {
    ends[to] = series[model.focus * ROOM];
    ends[to + 1] = series[model.focus * ROOM + 1];
    return;
  }
  writeTarget(model.targets[target], series, order, room.target, place, 0);
  ends[to] = model.move.optics.flange;
  ends[to + 1] = 0;
  for (let axis = 0; axis < 3; axis++) {
    const view = camera.rotation[3 * axis];
    const off = place[axis * ROOM] - camera.flange[axis];
    ends[to] += view * off;
    if (order === 0) continue;
    ends[to + 1] += view * (place[axis * ROOM + 1] - speed[axis]) + (aheadSpeed[axis] - speed[axis]) * off;
  }
}

/** How fast the flange goes and a point 1 m ahead of it: their difference is how fast the view turns. */
function writeTurning(chain: MovingChain, room: FocusRoom, series: Float64Array, camera: CameraRoom): void {
  for (let axis = 0; axis < 3; axis++) room.ahead[axis] = camera.flange[axis] + camera.rotation[3 * axis];
  writeVelocity(chain, series, camera, camera.flange, 0, room.speed);
  writeVelocity(chain, series, camera, room.ahead, 0, room.aheadSpeed);
}

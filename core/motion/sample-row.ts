import { project } from "../lens/project.ts";
import { writeQuaternion } from "./camera-pose.ts";
import { evaluateAxes, poseAxes, seeAim, type EvaluateRoom } from "./evaluate.ts";
import { posedPupilTerm, writeFocusDistance } from "./focus-distance.ts";
import type { MoveModel } from "./move-model.ts";
import { moveCamera, writeBlur } from "./sample-blur.ts";
import { FACTORIAL, ROOM } from "./series.ts";
import type { Take } from "./take.ts";
import { writeTarget } from "./target-series.ts";
import type { Side } from "./trajectory.ts";

/** One over the limit of each axis's speed, acceleration and jerk, shape (axes, 3); 0 without a limit. */
export function sharePerLimit({ axes }: MoveModel["move"]): Float64Array {
  const per = ({ speed, accel, jerk }: (typeof axes)[number]["limits"]): number[] =>
    [speed, accel, jerk].map((limit) => (limit !== undefined && 0 < limit ? 1 / limit : 0));
  return Float64Array.from(axes.flatMap((axis) => per(axis.limits)));
}

/**
 * Writes row `row` of a take: what `evaluate` gives at `time` on `side`, to the last bit, without what a take does not hold.
 * The quaternion is of the sign nearer to the row before. Allocates nothing.
 */
export function writeRow(
  model: MoveModel,
  room: EvaluateRoom,
  perLimit: Float64Array,
  time: number,
  side: Side,
  take: Take,
  row: number,
): void {
  const t = 0 <= time ? Math.min(time, model.duration) : 0;
  const { series } = room.solve;
  evaluateAxes(model, room.solve, t, side, 3);
  writeAxes(model, series, perLimit, take, row);
  const interval = room.solve.where[0];
  take.focal[row] = series[model.focal * ROOM];
  writeCamera(model, room, interval, take, row);
  if (take.iris) take.iris[row] = series[model.iris * ROOM];
  if (take.blur) moveCamera(model, room, room.blur, interval, take, row);
  writeTargets(model, room, take, row);
  const span = model.spans[model.spanOf[interval]];
  const aims = span !== undefined && 0 <= span.fromTarget;
  if (take.wanted) {
    take.wanted[2 * row] = aims ? series[model.across * ROOM] : NaN;
    take.wanted[2 * row + 1] = aims ? series[model.down * ROOM] : NaN;
  }
  if (!take.reached) return;
  if (aims) seeAim(model, room, span, span.share < 0 ? 0 : series[span.share * ROOM], take.focal[row], take, row);
  take.reached[2 * row] = aims ? room.seen[0] : NaN;
  take.reached[2 * row + 1] = aims ? room.seen[1] : NaN;
}

function writeAxes(model: MoveModel, series: Float64Array, perLimit: Float64Array, take: Take, row: number): void {
  const { root, ratio, offset } = model;
  const { value, speed, accel, jerk } = take;
  const count = root.length;
  const to = row * count;
  let share = 0;
  for (let i = 0; i < count; i++) {
    const at = root[i] * ROOM;
    const r = ratio[i];
    const v = r * series[at + 1];
    const a = r * FACTORIAL[2] * series[at + 2];
    const j = r * FACTORIAL[3] * series[at + 3];
    value[to + i] = r * series[at] + offset[i];
    speed[to + i] = v;
    accel[to + i] = a;
    jerk[to + i] = j;
    share = Math.max(
      share,
      Math.abs(v) * perLimit[3 * i],
      Math.abs(a) * perLimit[3 * i + 1],
      Math.abs(j) * perLimit[3 * i + 2],
    );
  }
  take.share[row] = share;
}

function writeCamera(model: MoveModel, room: EvaluateRoom, interval: number, take: Take, row: number): void {
  const { camera, turn } = room;
  const { series } = room.solve;
  poseAxes(room.solve, camera);
  writeFocusDistance(model, room.focus, series, camera, interval);
  take.focus[row] = room.focus.distance[0];
  const pupil = posedPupilTerm(model, room.focus, series, interval, 0);
  const { position, rotation } = take;
  for (let axis = 0; axis < 3; axis++) {
    position[3 * row + axis] = camera.flange[axis] + pupil * camera.rotation[3 * axis];
  }
  writeQuaternion(camera.rotation, turn);
  const at = 4 * row;
  // The same turn has two quaternions; the one nearer to the row before is taken.
  let along = 0;
  if (0 < row) for (let k = 0; k < 4; k++) along += turn[k] * rotation[at - 4 + k];
  const sign = along < 0 ? -1 : 1;
  for (let k = 0; k < 4; k++) rotation[at + k] = sign * turn[k];
}

function writeTargets(model: MoveModel, room: EvaluateRoom, take: Take, row: number): void {
  const { rotation: r } = room.camera;
  const { place, seen } = room;
  const { targets, framing, distance, position } = take;
  const count = model.targets.length;
  for (let m = 0; m < count; m++) {
    writeTarget(model.targets[m], room.solve.series, take.blur ? 1 : 0, room.solve.target, place, 0);
    const at = row * count + m;
    targets[3 * at] = place[0];
    targets[3 * at + 1] = place[ROOM];
    targets[3 * at + 2] = place[2 * ROOM];
    const x = place[0] - position[3 * row];
    const y = place[ROOM] - position[3 * row + 1];
    const z = place[2 * ROOM] - position[3 * row + 2];
    distance[at] = Math.sqrt(x * x + y * y + z * z);
    const ahead = r[0] * x + r[3] * y + r[6] * z;
    const left = r[1] * x + r[4] * y + r[7] * z;
    const up = r[2] * x + r[5] * y + r[8] * z;
    project(model.move.optics, take.focal[row], ahead, left, up, seen);
    framing[2 * at] = seen[0];
    framing[2 * at + 1] = seen[1];
    writeBlur(model, room, room.blur, take, row, at);
  }
}

import { pointOf } from "./camera-keys.ts";
import { createEvaluateRoom, createInstant, evaluate } from "./evaluate.ts";
import type { MoveModel } from "./move-model.ts";
import { pathPlaceAt } from "./reach-path.ts";
import type { KeyStatus } from "./trajectory.ts";

/** A pupil this near to its place is there [m]. */
const THERE = 1e-6;

/** Looks where the pupil really is at each solved camera key: another branch of the aim can bring it elsewhere. */
export function confirmKeys(model: MoveModel): KeyStatus[] {
  const { keys } = model.move;
  if (keys.every((key) => !key.camera)) return [...model.keys];
  const room = createEvaluateRoom(model);
  const instant = createInstant(model);
  return model.keys.map((status, i) => {
    const { camera, time } = keys[i];
    if (!camera || status.status !== "converged") return status;
    evaluate(model, room, time, instant, time < model.duration ? "right" : "left");
    // Where a corner is rounded the camera does not come to the key's own point.
    const point = pathPlaceAt(model, time, "left") ?? pointOf(model, camera, room.solve.series);
    const miss = Math.hypot(...point.map((value, axis) => instant.position[axis] - value));
    return miss <= THERE ? status : { ...status, branchMiss: miss };
  });
}

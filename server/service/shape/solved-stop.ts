import { formatQuantity, trimmed } from "../../../core/base/units.ts";
import type { ShapeIntent } from "../../../core/edit/shape/intent.ts";
import type { ShapeStop } from "../../../core/edit/shape/shaped.ts";
import { axisDimension } from "../../../core/model/axis-quantity.ts";
import type { Trajectory } from "../../../core/motion/trajectory.ts";

/** An axis this near to an end of its range is on it [m, rad]. */
const ON_END = 1e-6;

/** What solving says of a camera key that the rig does not come to. */
export function keyStop({ keys, axes }: Trajectory, key: number): ShapeStop | undefined {
  const { status, nearest, distance, stoppedBy, onTarget } = keys[key];
  if (onTarget !== undefined) return { words: "the camera would stand on what it aims at" };
  if (status === "converged" || distance === undefined) return undefined;
  const names = (stoppedBy ?? []).map((axis) => `\`${axes[axis].name}\``);
  const why = names.length === 0 ? "the rig comes no nearer" : `${names.join(" and ")} stop it`;
  return { words: `${why}: ${formatQuantity(distance, "length")} are left`, ...(nearest ? { at: nearest } : {}) };
}

/** What stops the head where a subject was dragged in the picture, and where it stands instead. */
export function aimStop(trajectory: Trajectory, intent: ShapeIntent): ShapeStop | undefined {
  if (intent.kind !== "framing") return undefined;
  const { move, axes, duration, sources } = trajectory;
  const { time } = move.keys[intent.key];
  const instant = trajectory.createInstant();
  trajectory.at(time, instant, time < duration ? "right" : "left");
  if (instant.status === "converged") return undefined;
  const ends = axes.flatMap(({ name, type, range }, axis) => {
    const value = instant.value[axis];
    const isOut = range && sources[axis] === "solved" && (value < range.low + ON_END || range.high - ON_END < value);
    return isOut ? [`\`${name}\` ends at ${formatQuantity(value, axisDimension(type, 0))}`] : [];
  });
  const why = ends.length > 0 ? ends.join(", ") : "the head has no such view from there";
  const at: [number, number] = [instant.reached[0], instant.reached[1]];
  const seen = at.every(Number.isFinite);
  const where = seen ? `: the subject comes to ${at.map((share) => trimmed(share, 3)).join(", ")}` : "";
  return { words: why + where, ...(seen ? { at } : {}) };
}

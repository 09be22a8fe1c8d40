import { timeName } from "../../checks/message.ts";
import { formatQuantity } from "../../base/units.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { mirroredPoint, type Plane } from "./mirror-plane.ts";

/** A mirror, and which target stands for which in it, by index. */
export interface Mirroring {
  readonly plane: Plane;
  readonly partner: readonly number[];
}

/** How far a pupil [m] and a framing [shares] may be off the mirrored ones: values are written to 1e-6 m and 1e-5 deg. */
const SAME_PLACE = 1e-5;
const SAME_FRAMING = 1e-5;

/** Where a move is not another one in the mirror, as a clause; `undefined` where it is, at all `times` [s]. */
export function mirrorMiss(
  old: Trajectory,
  now: Trajectory,
  { plane, partner }: Mirroring,
  times: readonly number[],
): string | undefined {
  const [a, b] = [old.createInstant(), now.createInstant()];
  for (const time of times) {
    old.poseAt(time, a);
    now.poseAt(time, b);
    const wanted = mirroredPoint([a.position[0], a.position[1], a.position[2]], plane);
    const off = Math.hypot(...wanted.map((value, i) => value - b.position[i]));
    if (!(off <= SAME_PLACE)) {
      return `the camera would then be ${formatQuantity(off, "length")} off the mirrored way at ${timeName(time, old.move)}`;
    }
    // The place alone says nothing of where the camera looks: every target must be where it is in the mirror.
    const missed = partner.findIndex(
      (other, target) => 0 <= other && SAME_FRAMING < framingMiss(a.framing, target, b.framing, other),
    );
    if (0 <= missed) {
      return `\`${old.move.targets[missed].name}\` would then not be mirrored in the picture at ${timeName(time, old.move)}`;
    }
    const same = ["focal", "iris", "focus"] as const;
    if (same.some((name) => SAME_PLACE < Math.abs(a[name] - b[name]))) {
      return `the lens would then be set otherwise at ${timeName(time, old.move)}`;
    }
  }
  return undefined;
}

/** Instants at which a drift is looked at. */
const INSTANTS = 240;

/** How far the camera goes off the mirrored way between its keys, as a clause; `undefined` where it does not. */
export function mirrorDrift(old: Trajectory, now: Trajectory, { plane }: Mirroring): string | undefined {
  const [a, b] = [old.createInstant(), now.createInstant()];
  let [most, when] = [0, 0];
  for (let i = 0; i <= INSTANTS; i++) {
    const time = (i * old.duration) / INSTANTS;
    old.poseAt(time, a);
    now.poseAt(time, b);
    const wanted = mirroredPoint([a.position[0], a.position[1], a.position[2]], plane);
    const off = Math.hypot(...wanted.map((value, k) => value - b.position[k]));
    if (most < off) [most, when] = [off, time];
  }
  if (most <= SAME_PLACE) return undefined;
  return `between keys the camera is up to ${formatQuantity(most, "length")} off the mirrored way, at ${timeName(when, old.move)}`;
}

function framingMiss(old: Float64Array, target: number, now: Float64Array, other: number): number {
  const [across, down] = [1 - old[2 * target], old[2 * target + 1]];
  const misses = [Math.abs(across - now[2 * other]), Math.abs(down - now[2 * other + 1])];
  // Behind the camera nothing is in the picture, in the mirror either. Far outside of it shares grow without bound.
  if (Number.isNaN(across)) return Number.isNaN(now[2 * other]) ? 0 : Infinity;
  return Math.max(...misses) / Math.max(1, across ** 2 + down ** 2);
}

import { invertQuat, multiplyQuats, quatAbout, rotateByQuat, type Quat } from "../../base/quat.ts";
import type { Vec2, Vec3 } from "../../base/vec3.ts";
import { fieldOfView } from "../../lens/field-of-view.ts";
import { deliveredFraming, project } from "../../lens/project.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";
import type { Trajectory } from "../../motion/trajectory.ts";

/** How a camera sees a target at one instant of a move. Vectors are in the set's directions. */
export interface Shown {
  readonly move: ResolvedMove;
  /** From the entrance pupil to the target [m]. */
  readonly sight: Vec3;
  readonly rotation: Quat;
  /** [m] */
  readonly focal: number;
  /** How the table is turned that the target stands on; absent for a target that stands by itself. */
  readonly turned?: Quat;
}

/**
 * @param target Index into the move's targets.
 * @param t      [s]
 */
export function shownAt(trajectory: Trajectory, target: number, t: number): Shown {
  const { move } = trajectory;
  const instant = trajectory.createInstant();
  trajectory.poseAt(t, instant);
  const [x, y, z] = instant.position;
  const at = 3 * target;
  const sight: Vec3 = [instant.targets[at] - x, instant.targets[at + 1] - y, instant.targets[at + 2] - z];
  const [qx, qy, qz, qw] = instant.rotation;
  const table = move.targets[target].on;
  const axis = move.axes.findIndex(({ turntable }) => table !== undefined && turntable === table);
  const turned = table === undefined ? undefined : quatAbout(move.turntables[table].along, instant.value[axis] ?? 0);
  return { move, sight, rotation: [qx, qy, qz, qw], focal: instant.focal, ...(turned ? { turned } : {}) };
}

/** The target's place in the frame of the camera [m]: x along the view, y left, z up. */
export const inCamera = ({ rotation, sight }: Shown, offset: Vec3 = [0, 0, 0]): Vec3 =>
  rotateByQuat(invertQuat(rotation), [sight[0] + offset[0], sight[1] + offset[1], sight[2] + offset[2]]);

/** Framing in the delivered picture of the point that is `offset` [m] from the target; NaN where there is no picture of it. */
export function deliveredAt(shown: Shown, offset?: Vec3): Vec2 {
  const { optics, deliver } = shown.move;
  const [x, y, z] = inCamera(shown, offset);
  const captured: [number, number] = [NaN, NaN];
  project(optics, shown.focal, x, y, z, captured);
  return deliveredFraming(optics, deliver, captured);
}

/** Height in the set at the target's depth that fills the delivered picture from top to bottom [m]. */
export function deliveredHeight(shown: Shown): number {
  const { optics, deliver } = shown.move;
  return ((deliver[1] / optics.resolution[1]) * optics.sensor[1] * inCamera(shown)[0]) / shown.focal;
}

/** What there is to tell of a view beside its picture. */
export interface ViewFigures {
  /** From the pupil to the target [m]. */
  readonly distance: number;
  /** Of the pupil above the target [m]. */
  readonly height: number;
  /** Turn about the view, against the horizon, clockwise as seen from behind [rad]; NaN near the view straight up or down. */
  readonly roll: number;
  /** [m] */
  readonly focal: number;
  /** Across the whole captured picture [rad]. */
  readonly field: number;
}

/** Cosine of the view's height below which there is no horizon to speak of (within about 3 deg of straight up or down). */
const NO_HORIZON = 0.05;

export function viewFigures(shown: Shown): ViewFigures {
  const [left, up] = [rotateByQuat(shown.rotation, [0, 1, 0])[2], rotateByQuat(shown.rotation, [0, 0, 1])[2]];
  return {
    distance: Math.hypot(...shown.sight),
    height: -shown.sight[2] + 0,
    roll: Math.hypot(left, up) < NO_HORIZON ? NaN : Math.atan2(left, up),
    focal: shown.focal,
    field: fieldOfView(shown.move.optics, shown.focal).across,
  };
}

/** Angle between two directions [rad], exact for small ones; 0 where one has no length. */
export function angleBetween(a: Vec3, b: Vec3): number {
  const cross = Math.hypot(a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]);
  return Math.atan2(cross, a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
}

/** How far the tables that both targets stand on are turned apart [rad], 0..pi; 0 unless both stand on one. */
export function turnedApart({ turned: a }: Shown, { turned: b }: Shown): number {
  if (!a || !b) return 0;
  const [x, y, z, w] = multiplyQuats(invertQuat(a), b);
  return 2 * Math.atan2(Math.hypot(x, y, z), Math.abs(w));
}

/** Directions in which what is about a target is looked at: the set's, and those of the table that turns it. */
export function directionsAbout({ turned }: Shown): readonly Vec3[] {
  const own: readonly Vec3[] = [
    [1, 0, 0],
    [-1, 0, 0],
    [0, 1, 0],
    [0, -1, 0],
    [0, 0, 1],
    [0, 0, -1],
  ];
  return turned ? [...own, ...own.map((each) => rotateByQuat(turned, each))] : own;
}

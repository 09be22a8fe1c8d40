import type { Camera, PerspectiveCamera } from "three";
import { Matrix4 } from "three";
import { unproject } from "../../core/lens/project.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { Moment } from "../take/moment.ts";

/** What a plain picture must reach so that the lens's own can be made from it: slopes x right, y down, at 1 m. */
export interface Slopes {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const NEAR = 0.01;
const FAR = 200;
/** Points along an edge of the frame at which a distorted lens is asked how far it sees. */
const EDGE_STEPS = 24;
/** A lens that sees farther to the side than this is cut there (86.4° off the axis). */
const STEEPEST = 16;

/** Slopes of a lens without distortion at the edges of its frame: an off-axis frustum. */
export function plainSlopes(optics: ResolvedOptics, focal: number): Slopes {
  const across = (share: number): number =>
    ((share - 0.5 - optics.centre[0]) * optics.squeeze * optics.sensor[0]) / focal;
  const down = (share: number): number => ((share - 0.5 - optics.centre[1]) * optics.sensor[1]) / focal;
  return { left: across(0), right: across(1), top: down(0), bottom: down(1) };
}

/** Slopes that hold all that a distorted lens pictures in its frame. */
export function reachedSlopes(optics: ResolvedOptics, focal: number): Slopes {
  if (optics.distortion === undefined) return plainSlopes(optics, focal);
  const reached = { left: 0, right: 0, top: 0, bottom: 0 };
  const direction = [0, 0, 0];
  for (let step = 0; step <= EDGE_STEPS; step++) {
    const s = step / EDGE_STEPS;
    for (const [across, down] of [
      [s, 0],
      [s, 1],
      [0, s],
      [1, s],
    ]) {
      // prettier-ignore
      if (!unproject(optics, focal, across, down, direction)) continue;
      const [x, y] = [-direction[1], -direction[2]];
      reached.left = Math.max(Math.min(reached.left, x), -STEEPEST);
      reached.right = Math.min(Math.max(reached.right, x), STEEPEST);
      reached.top = Math.max(Math.min(reached.top, y), -STEEPEST);
      reached.bottom = Math.min(Math.max(reached.bottom, y), STEEPEST);
    }
  }
  if (reached.left === reached.right || reached.top === reached.bottom) return plainSlopes(optics, focal);
  return reached;
}

/**
 * Stands `camera` in the entrance pupil. three's camera looks along -z with y up; ours along x with z up, so right is -y,
 * up is z and back is -x.
 */
export function standInPupil(camera: Camera, moment: Moment): void {
  const r = moment.pose.mountRotation;
  const p = moment.pupil;
  camera.matrixAutoUpdate = false;
  camera.matrix.set(-r[1], r[2], -r[0], p[0], -r[4], r[5], -r[3], p[1], -r[7], r[8], -r[6], p[2], 0, 0, 0, 1);
  camera.matrix.decompose(camera.position, camera.quaternion, camera.scale);
  camera.updateMatrixWorld(true);
}

export function setSlopes(camera: PerspectiveCamera, slopes: Slopes): void {
  camera.projectionMatrix.copy(
    new Matrix4().makePerspective(
      slopes.left * NEAR,
      slopes.right * NEAR,
      -slopes.top * NEAR,
      -slopes.bottom * NEAR,
      NEAR,
      FAR,
    ),
  );
  camera.projectionMatrixInverse.copy(camera.projectionMatrix).invert();
}

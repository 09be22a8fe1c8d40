import type { Camera, PerspectiveCamera } from "three";
import { Matrix4 } from "three";
import type { Slopes } from "../../core/lens/seen-slopes.ts";
import type { Moment } from "../take/moment.ts";

const NEAR = 0.01;
const FAR = 200;
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

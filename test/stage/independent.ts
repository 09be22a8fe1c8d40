// Projections that share no code with the stage: three's own scene graph and cameras.
import { Matrix4, Object3D, OrthographicCamera, PerspectiveCamera, Quaternion, Vector3 } from "three";
import type { Instant } from "../../core/motion/trajectory.ts";
import type { ResolvedMove } from "../../core/motion/resolved-move.ts";
import type { ResolvedOptics } from "../../core/lens/resolved-optics.ts";
import type { StagePicture } from "../../protocol/stage.ts";

export type Place = readonly [number, number];

/**
 * Places of the links in the set: an object in an object for each joint, as three multiplies them.
 *
 * @param values One a `move.axes`, as the engine gives them.
 */
export function linkPlaces(move: ResolvedMove, values: ArrayLike<number>): Vector3[] {
  const base = new Object3D();
  base.position.set(move.base.x, move.base.y, move.base.floor);
  const turn = (axis: Vector3, angle: number): Quaternion => new Quaternion().setFromAxisAngle(axis, angle);
  const [x, y, z] = [new Vector3(1, 0, 0), new Vector3(0, 1, 0), new Vector3(0, 0, 1)];
  base.quaternion
    .copy(turn(z, move.base.heading))
    .multiply(turn(y, move.base.lean[1]))
    .multiply(turn(x, move.base.lean[0]));
  let parent = base;
  const links = move.rig.joints.map((joint, index) => {
    const origin = new Object3D();
    origin.position.set(...joint.origin.at);
    origin.quaternion.set(...joint.origin.turn);
    const moved = new Object3D();
    const axis = move.axes.findIndex((one) => one.joint === index);
    const value = axis < 0 ? 0 : values[axis];
    const along = new Vector3(...joint.along);
    if (joint.type === "linear") moved.position.copy(along).multiplyScalar(value);
    if (joint.type === "rotary") moved.quaternion.setFromAxisAngle(along, value);
    parent.add(origin);
    origin.add(moved);
    parent = moved;
    return moved;
  });
  base.updateMatrixWorld(true);
  return links.map((link) => link.getWorldPosition(new Vector3()));
}

/** A camera of three's that stands where the stage says that it is looked at from. */
export function stageCamera(stage: NonNullable<StagePicture["stage"]>): PerspectiveCamera | OrthographicCamera {
  const [, , width, height] = stage.rectangle;
  const aspect = width / height;
  const half = stage.opening / 2;
  const camera =
    stage.kind === "perspective"
      ? new PerspectiveCamera((stage.opening * 180) / Math.PI, aspect, 0.01, 1000)
      : new OrthographicCamera(-half * aspect, half * aspect, half, -half, -1000, 1000);
  camera.up.set(...(stage.up as [number, number, number]));
  camera.position.set(...(stage.eye as [number, number, number]));
  const centre = new Vector3(...(stage.centre as [number, number, number]));
  // A parallel view is reported from its centre: it looks along the third direction, from wherever on that line.
  if (stage.kind === "parallel") {
    const ahead = parallelDirection(stage);
    camera.position.copy(centre).addScaledVector(ahead, -10);
  }
  camera.lookAt(centre);
  camera.updateMatrixWorld(true);
  return camera;
}

/** Top looks down, side along y, front along x: told apart by what is up and, for the elevations, by the eye's azimuth. */
function parallelDirection(stage: NonNullable<StagePicture["stage"]>): Vector3 {
  const right = new Vector3(...(stage.right as [number, number, number]));
  return new Vector3(...(stage.up as [number, number, number])).cross(right);
}

/** Place in a picture of these px from its top left; null behind the camera. */
export function pixelsOf(
  camera: PerspectiveCamera | OrthographicCamera,
  at: Vector3,
  width: number,
  height: number,
): Place | null {
  const ahead = at.clone().applyMatrix4(new Matrix4().copy(camera.matrixWorld).invert()).z;
  if (ahead >= 0) return null;
  const seen = at.clone().project(camera);
  return [((seen.x + 1) / 2) * width, ((1 - seen.y) / 2) * height];
}

/** A camera of three's with a plain lens: film of the sensor's desqueezed width, window shifted by the lens's centre. */
export function plainLensCamera(optics: ResolvedOptics, instant: Instant): PerspectiveCamera {
  const width = optics.sensor[0] * optics.squeeze;
  const opening = 2 * Math.atan(optics.sensor[1] / (2 * instant.focal));
  const camera = new PerspectiveCamera((opening * 180) / Math.PI, width / optics.sensor[1], 0.001, 1000);
  const full = [(1e6 * width) / optics.sensor[1], 1e6];
  camera.setViewOffset(full[0], full[1], -optics.centre[0] * full[0], -optics.centre[1] * full[1], full[0], full[1]);
  camera.position.fromArray(instant.position);
  const turn = new Quaternion().fromArray(instant.rotation);
  const view = new Vector3(1, 0, 0).applyQuaternion(turn);
  camera.up.copy(new Vector3(0, 0, 1).applyQuaternion(turn));
  camera.lookAt(camera.position.clone().add(view));
  camera.updateProjectionMatrix();
  camera.updateMatrixWorld(true);
  return camera;
}

/** The point in the frame of the camera's pupil: x along the view, y left, z up. */
export function inCamera(instant: Instant, at: Vector3): Vector3 {
  const turn = new Quaternion().fromArray(instant.rotation).invert();
  return at.clone().sub(new Vector3().fromArray(instant.position)).applyQuaternion(turn);
}

import type { Object3D } from "three";

/**
 * Places an object that does not place itself (`matrixAutoUpdate` off).
 *
 * @param rotation Row-major, 9 numbers from `r`.
 * @param position 3 numbers from `p` [m].
 */
export function poseGroup(
  object: Object3D,
  rotation: Float64Array,
  r: number,
  position: Float64Array,
  p: number,
): void {
  object.matrix.set(
    rotation[r],
    rotation[r + 1],
    rotation[r + 2],
    position[p],
    rotation[r + 3],
    rotation[r + 4],
    rotation[r + 5],
    position[p + 1],
    rotation[r + 6],
    rotation[r + 7],
    rotation[r + 8],
    position[p + 2],
    0,
    0,
    0,
    1,
  );
  object.matrixWorldNeedsUpdate = true;
}

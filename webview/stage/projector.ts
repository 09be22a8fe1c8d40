import { Vector3, type OrthographicCamera, type PerspectiveCamera } from "three";

/** Nearer to the eye than this a place has no picture [m]. */
const NEAREST = 1e-3;

/**
 * Pixels of places in a picture of `width` by `height`, from its top left, shape (count, 2); NaN behind the eye.
 *
 * @param places Shape (count, 3), in the set [m].
 */
export function projectPlaces(
  camera: PerspectiveCamera | OrthographicCamera,
  places: ArrayLike<number>,
  width: number,
  height: number,
): Float32Array {
  const point = new Vector3();
  const count = Math.floor(places.length / 3);
  const pixels = new Float32Array(2 * count);
  for (let i = 0; i < count; i++) {
    point.set(places[3 * i], places[3 * i + 1], places[3 * i + 2]).applyMatrix4(camera.matrixWorldInverse);
    const behind = "isPerspectiveCamera" in camera && point.z > -NEAREST;
    point.applyMatrix4(camera.projectionMatrix);
    pixels[2 * i] = behind ? NaN : ((point.x + 1) / 2) * width;
    pixels[2 * i + 1] = behind ? NaN : ((1 - point.y) / 2) * height;
  }
  return pixels;
}

/** The nearest of the pixels to a place, at most `reach` away; -1 for none. */
export function nearestPixel(pixels: Float32Array, x: number, y: number, reach: number): number {
  let nearest = -1;
  let least = reach;
  for (let i = 0; i < pixels.length / 2; i++) {
    const away = Math.hypot(pixels[2 * i] - x, pixels[2 * i + 1] - y);
    if (away < least) [nearest, least] = [i, away];
  }
  return nearest;
}

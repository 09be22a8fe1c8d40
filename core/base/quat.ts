/** A unit quaternion [x, y, z, w] that takes vectors of the inner frame to the outer frame. */
export type Quat = readonly [number, number, number, number];

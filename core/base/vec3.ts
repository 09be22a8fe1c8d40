/** Three numbers: a point or vector, in metres unless said. Data only; hot loops use typed arrays. */
export type Vec3 = readonly [number, number, number];

export type Vec2 = readonly [number, number];

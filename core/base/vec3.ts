/** Three numbers: a point or vector, in metres unless said. Data only; hot loops use typed arrays. */
export type Vec3 = readonly [number, number, number];

export type Vec2 = readonly [number, number];

export function add(a: Vec3, b: Vec3): Vec3 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

export function subtract(a: Vec3, b: Vec3): Vec3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

export function scale(a: Vec3, by: number): Vec3 {
  return [a[0] * by, a[1] * by, a[2] * by];
}

export function dot(a: Vec3, b: Vec3): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Vec3, b: Vec3): Vec3 {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function length(a: Vec3): number {
  return Math.hypot(a[0], a[1], a[2]);
}

/** Unit vector along `a`; `undefined` when `a` is zero or not finite. */
export function normalise(a: Vec3): Vec3 | undefined {
  const size = length(a);
  return 0 < size && Number.isFinite(size) ? scale(a, 1 / size) : undefined;
}

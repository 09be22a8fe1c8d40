import { add, dot, normalise, scale, subtract, type Vec3 } from "../../core/base/vec3.ts";
import type { StagePicture } from "../../protocol/stage.ts";

/** How a pane looks at the set, as it was drawn last. */
export type Look = Pick<NonNullable<StagePicture["stage"]>, "kind" | "eye" | "centre" | "right" | "up" | "opening">;

/** What lies under a pixel of a pane: a half line in the set [m], its direction of length 1. */
export interface Ray {
  readonly from: Vec3;
  readonly along: Vec3;
}

const vec = (parts: readonly number[]): Vec3 => [parts[0], parts[1], parts[2]];

/** From the set towards whoever looks. */
export function backOf({ right, up }: Look): Vec3 {
  const [r, u] = [right, up];
  return [r[1] * u[2] - r[2] * u[1], r[2] * u[0] - r[0] * u[2], r[0] * u[1] - r[1] * u[0]];
}

/** @param x, y px from the top left of a picture of `width` by `height`. */
export function rayAt(look: Look, x: number, y: number, width: number, height: number): Ray {
  const [right, up, back] = [vec(look.right), vec(look.up), backOf(look)];
  const [across, rise] = [(x - width / 2) / height, (height / 2 - y) / height];
  if (look.kind === "parallel") {
    const off = add(scale(right, across * look.opening), scale(up, rise * look.opening));
    return { from: add(vec(look.centre), off), along: scale(back, -1) };
  }
  const wide = 2 * Math.tan(look.opening / 2);
  const along = add(scale(back, -1), add(scale(right, across * wide), scale(up, rise * wide)));
  return { from: vec(look.eye), along: normalise(along) ?? scale(back, -1) };
}

/** Where a ray meets the plane through `point` square to `normal`; `undefined` where they don't meet. */
export function onPlane(ray: Ray, point: Vec3, normal: Vec3): Vec3 | undefined {
  const slope = dot(ray.along, normal);
  if (Math.abs(slope) < 1e-9) return undefined;
  return add(ray.from, scale(ray.along, dot(subtract(point, ray.from), normal) / slope));
}

/** The point of the line through `point` along `axis` that is nearest to a ray; `undefined` where the axis is seen end on. */
export function onAxis(ray: Ray, point: Vec3, axis: Vec3): Vec3 | undefined {
  const across = dot(ray.along, axis);
  const rest = 1 - across * across;
  if (rest < 1e-3) return undefined;
  const off = subtract(point, ray.from);
  return add(point, scale(axis, (dot(ray.along, off) * across - dot(axis, off)) / rest));
}

/** Metres that a pixel is at the depth of a point. */
export function metresPerPixel(look: Look, point: Vec3, height: number): number {
  if (look.kind === "parallel") return look.opening / height;
  const depth = dot(subtract(vec(look.eye), point), backOf(look));
  return (2 * Math.tan(look.opening / 2) * depth) / height;
}

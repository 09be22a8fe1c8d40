import { dot, subtract, type Vec2, type Vec3 } from "../base/vec3.ts";

/** A rectangle: x to the right, y down. */
export interface Rectangle {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/**
 * From where a picture is drawn. It has a plane, x to the right and y down: at 1 m ahead of a perspective eye, in metres
 * across a parallel one. What is straight in the set is straight in the plane; `page` takes the plane to the page.
 */
export interface Eye {
  readonly kind: "perspective" | "parallel";
  /** [m], in the set. */
  readonly position: Vec3;
  /** Unit vectors in the set. */
  readonly ahead: Vec3;
  readonly right: Vec3;
  readonly down: Vec3;
  /** What of the plane is drawn, and a little more. */
  readonly window: Rectangle;
  /** Place on the page [px] of a place in the window. */
  page(x: number, y: number): Vec2;
  /** True where `page` bends straight lines. */
  readonly bends: boolean;
}

/** What is nearer than this to a perspective eye is not drawn [m]. */
export const NEAR = 0.01;
/** A line that is bent is drawn in steps of this share of the window. */
const STEP = 1 / 40;

/** A point by the eye's own directions: to the right, down, ahead [m]. */
export function fromEye({ position, right, down, ahead }: Eye, point: Vec3): Vec3 {
  const off = subtract(point, position);
  return [dot(off, right), dot(off, down), dot(off, ahead)];
}

export const isAhead = ({ kind }: Eye, point: Vec3): boolean => kind === "parallel" || point[2] >= NEAR;

/** Place in the plane of a point that is ahead, by the eye's directions. */
export const inPlane = ({ kind }: Eye, [x, y, depth]: Vec3): Vec2 =>
  kind === "parallel" ? [x, y] : [x / depth, y / depth];

/** Place on the page of a point of the set; `undefined` where it is behind the eye or outside the window. */
export function placeOn(eye: Eye, point: Vec3): Vec2 | undefined {
  const seen = fromEye(eye, point);
  if (!isAhead(eye, seen)) return undefined;
  const [x, y] = inPlane(eye, seen);
  const { left, right, top, bottom } = eye.window;
  return left <= x && x <= right && top <= y && y <= bottom ? eye.page(x, y) : undefined;
}

/** What is to be seen of a straight line between two points of the set, on the page; `undefined` for none of it. */
export function lineOn(eye: Eye, from: Vec3, to: Vec3): readonly Vec2[] | undefined {
  const ends = cutNear(eye, fromEye(eye, from), fromEye(eye, to));
  if (!ends) return undefined;
  const cut = cutWindow(eye.window, inPlane(eye, ends[0]), inPlane(eye, ends[1]));
  return cut && [eye.page(...cut[0]), ...bentWay(eye, cut[0], cut[1])];
}

/** The part of a line that is ahead of the eye. */
export function cutNear(eye: Eye, from: Vec3, to: Vec3): readonly [Vec3, Vec3] | undefined {
  const [a, b] = [isAhead(eye, from), isAhead(eye, to)];
  if (!a && !b) return undefined;
  if (a && b) return [from, to];
  const share = (NEAR - from[2]) / (to[2] - from[2]);
  const cut: Vec3 = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]), NEAR];
  return a ? [from, cut] : [cut, to];
}

/** The part of a line within a rectangle (Liang and Barsky, 1984). */
function cutWindow({ left, right, top, bottom }: Rectangle, from: Vec2, to: Vec2): readonly [Vec2, Vec2] | undefined {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  let [low, high] = [0, 1];
  for (const [slope, room] of [
    [-dx, from[0] - left],
    [dx, right - from[0]],
    [-dy, from[1] - top],
    [dy, bottom - from[1]],
  ]) {
    if (slope === 0) {
      if (room < 0) return undefined;
    } else if (slope < 0) low = Math.max(low, room / slope);
    else high = Math.min(high, room / slope);
  }
  if (!(low <= high)) return undefined;
  const at = (share: number): Vec2 => [from[0] + share * dx, from[1] + share * dy];
  return [at(low), at(high)];
}

/** The way on the page between two places of the plane, without its first point. */
export function bentWay(eye: Eye, from: Vec2, to: Vec2): Vec2[] {
  const { left, right, top, bottom } = eye.window;
  const long = Math.max(Math.abs(to[0] - from[0]) / (right - left), Math.abs(to[1] - from[1]) / (bottom - top));
  const steps = eye.bends ? Math.max(1, Math.ceil(long / STEP)) : 1;
  return Array.from({ length: steps }, (_, step) => {
    const share = (step + 1) / steps;
    return eye.page(from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]));
  });
}

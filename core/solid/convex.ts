import type { Solid } from "../rig/resolved-rig.ts";

/**
 * A convex body, compiled once: all points within `rounding` of a core. The core is a point, a segment along z, a box, an
 * upright cylinder (`x` is its radius, `z` half its height) or the hull of `points`, in the body's own frame. Metres.
 */
export interface Convex {
  readonly core: "point" | "segment" | "box" | "cylinder" | "points";
  /** Half sizes of the core; 0 where it has none. */
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Shape (n, 3), row-major; empty but for `points`. */
  readonly points: Float64Array;
  readonly rounding: number;
  /** Centre of a ball that holds the whole body, in its own frame, and the radius of that ball. */
  readonly centre: Float64Array;
  readonly radius: number;
}

const NO_POINTS = 0;

/**
 * The convex body of a solid about its own origin. A mesh counts as its hull.
 *
 * @returns `undefined` for a mesh whose hull is not known: it has no extent that could be measured.
 */
export function convexOf(solid: Solid): Convex | undefined {
  switch (solid.shape) {
    case "box": {
      const [x, y, z] = solid.size;
      return about("box", Math.abs(x) / 2, Math.abs(y) / 2, Math.abs(z) / 2, 0);
    }
    case "cylinder":
      return about("cylinder", solid.radius, solid.radius, solid.height / 2, 0);
    case "capsule": {
      const half = Math.max(0, solid.height / 2 - solid.radius);
      return about(half === 0 ? "point" : "segment", 0, 0, half, solid.radius);
    }
    case "sphere":
      return about("point", 0, 0, 0, solid.radius);
    case "mesh":
      return solid.hull && convexOfPoints(solid.hull, solid.margin);
  }
}

function about(
  core: "point" | "segment" | "box" | "cylinder",
  x: number,
  y: number,
  z: number,
  rounding: number,
): Convex {
  const flat = core === "cylinder" ? x : Math.hypot(x, y);
  const radius = Math.hypot(flat, z) + rounding;
  return { core, x, y, z, points: new Float64Array(NO_POINTS), rounding, centre: new Float64Array(3), radius };
}

/**
 * The convex body of points: all that lies between them, and `rounding` around that. Points inside the hull do no harm but
 * cost time.
 *
 * @param points Shape (n, 3), n >= 1, finite [m].
 */
export function convexOfPoints(points: ArrayLike<number>, rounding = 0): Convex {
  const own = Float64Array.from(points);
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < own.length; i++) {
    low[i % 3] = Math.min(low[i % 3], own[i]);
    high[i % 3] = Math.max(high[i % 3], own[i]);
  }
  const centre = Float64Array.from(low, (value, axis) => (value + high[axis]) / 2);
  let radius = 0;
  for (let i = 0; i < own.length; i += 3) {
    radius = Math.max(radius, Math.hypot(own[i] - centre[0], own[i + 1] - centre[1], own[i + 2] - centre[2]));
  }
  return { core: "points", x: 0, y: 0, z: 0, points: own, rounding, centre, radius: radius + rounding };
}

/** Where the centre of a placed body's ball is: rotation · centre + position, into `out[at .. at + 2]`. */
export function placeCentre(
  { centre }: Convex,
  rotation: ArrayLike<number>,
  position: ArrayLike<number>,
  out: Float64Array,
  at: number,
): void {
  const [x, y, z] = centre;
  out[at] = position[0] + rotation[0] * x + rotation[1] * y + rotation[2] * z;
  out[at + 1] = position[1] + rotation[3] * x + rotation[4] * y + rotation[5] * z;
  out[at + 2] = position[2] + rotation[6] * x + rotation[7] * y + rotation[8] * z;
}

import type { OriginId } from "../base/origin-id.ts";
import type { Pose } from "../base/pose.ts";
import { matrixFromQuat } from "../base/quat.ts";
import type { Convex } from "../solid/convex.ts";

/** What a body is. `base` does not move with any axis; `camera` is a line in it, `lens` the barrel; the last two stand in the set. */
export type BodyPart = "rig" | "base" | "camera" | "lens" | "attachment" | "obstacle" | "person";

/** A convex body and what carries it: a link of the rig, a turntable, or with neither of both the set. */
export interface SpaceBody {
  readonly name: string;
  readonly part: BodyPart;
  /** Joint index of the link that carries it, or -1. */
  readonly link: number;
  /** Index of the turntable that carries it, or -1. */
  readonly table: number;
  readonly convex: Convex;
  /** Its frame in that of what carries it: row-major rotation (9,), position (3,) [m]. */
  readonly rotation: Float64Array;
  readonly position: Float64Array;
  /** Centre and half sizes of a box along its own axes that holds it, (3,) each [m]. */
  readonly boxCentre: Float64Array;
  readonly boxHalf: Float64Array;
  readonly origin: OriginId;
}

export type BodyFacts = Pick<SpaceBody, "name" | "part" | "link" | "table" | "origin">;

/** @param pose Where the body's own frame is in that of what carries it. */
export function spaceBody(facts: BodyFacts, convex: Convex, pose: Pose): SpaceBody {
  const rotation = new Float64Array(9);
  matrixFromQuat(pose.turn, rotation);
  return { ...facts, convex, rotation, position: Float64Array.from(pose.at), ...boxAround(convex) };
}

function boxAround({ core, x, y, z, points, rounding }: Convex): Pick<SpaceBody, "boxCentre" | "boxHalf"> {
  if (core !== "points") {
    return {
      boxCentre: new Float64Array(3),
      boxHalf: Float64Array.of(x + rounding, (core === "cylinder" ? x : y) + rounding, z + rounding),
    };
  }
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i++) {
    low[i % 3] = Math.min(low[i % 3], points[i]);
    high[i % 3] = Math.max(high[i % 3], points[i]);
  }
  return {
    boxCentre: Float64Array.from(low, (value, axis) => (value + high[axis]) / 2),
    boxHalf: Float64Array.from(low, (value, axis) => (high[axis] - value) / 2 + rounding),
  };
}

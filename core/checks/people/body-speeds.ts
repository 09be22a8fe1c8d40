import { writeJointRow } from "../../motion/joint-rows.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { createLinkMotion, moveLinks } from "../../rig/link-motion.ts";
import { createPlaced, placeBodies, type Placed, type Space } from "../../space/space.ts";
import { fastestPoint, type RigidMotion } from "./fastest-point.ts";

/** How fast the bodies of a rig are at one instant after the other. */
export interface BodySpeeds {
  /** Where everything is at the instant that was looked at last. */
  readonly placed: Placed;
  /** Looks at time `t` [s]. */
  look(t: number): void;
  /** Speed of the fastest point of a body then [m/s]; 0 for what stands, and where the motion has no bounds. */
  speedOf(body: number): number;
}

export function bodySpeeds(trajectory: Trajectory, space: Space): BodySpeeds {
  const { chain, base, bodies } = space;
  const instant = trajectory.createInstant();
  const placed = createPlaced(space);
  const motion = createLinkMotion(chain);
  const [q, speeds, accels] = [0, 1, 2].map(() => new Float64Array(chain.count));
  const links = Array.from({ length: chain.count }, (_, link): RigidMotion => {
    const [from, to] = [3 * link, 3 * link + 3];
    return {
      turning: motion.turning.subarray(from, to),
      velocity: motion.velocity.subarray(from, to),
      at: motion.pose.positions.subarray(from, to),
    };
  });
  return {
    placed,
    look(t) {
      trajectory.at(t, instant);
      placed.t = t;
      placed.values.set(instant.value);
      placeBodies(space, placed);
      writeJointRow(trajectory.axes, instant.value, q);
      writeJointRow(trajectory.axes, instant.speed, speeds);
      moveLinks(chain, base, q, speeds, accels, motion);
    },
    speedOf(body) {
      const { link, convex } = bodies[body];
      if (link < 0) return 0;
      const speed = fastestPoint(convex, placed.rotations[body], placed.positions[body], links[link]);
      return Number.isFinite(speed) ? speed : 0;
    },
  };
}

import { writeJointRow } from "../../motion/joint-rows.ts";
import type { Trajectory } from "../../motion/trajectory.ts";
import { createLinkMotion, moveLinks } from "../../rig/link-motion.ts";
import { createPlaced, placeBodies, type Space } from "../../space/space.ts";
import { fastestPoint, type RigidMotion } from "./fastest-point.ts";

/** How fast the bodies of a rig are at one instant after the other. */
export interface BodySpeeds {
  /** Looks at time `t` [s]. */
  look(t: number): void;
  /**
   * Speed of the fastest point of a body then [m/s]; 0 for what stands, and where the motion has no bounds. Where it is soon
   * proven not to be above `enough` [m/s], that proof is told instead: a speed up to `enough` that it is not above.
   */
  speedOf(body: number, enough?: number): number;
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
    look(t) {
      trajectory.at(t, instant);
      placed.t = t;
      placed.values.set(instant.value);
      placeBodies(space, placed);
      writeJointRow(trajectory.axes, instant.value, q);
      writeJointRow(trajectory.axes, instant.speed, speeds);
      moveLinks(chain, base, q, speeds, accels, motion);
    },
    speedOf(body, enough = 0) {
      const { link, convex } = bodies[body];
      if (link < 0) return 0;
      const most = mostSpeed(links[link], placed.centres, 3 * body, convex.radius);
      if (most <= enough) return most;
      const speed = fastestPoint(convex, placed.rotations[body], placed.positions[body], links[link]);
      return Number.isFinite(speed) ? speed : 0;
    },
  };
}

/** No point of the ball around `c[i ..]` is faster: |v + w × d| + |w| r. */
function mostSpeed({ turning: w, velocity, at }: RigidMotion, c: Float64Array, i: number, radius: number): number {
  const [x, y, z] = [c[i] - at[0], c[i + 1] - at[1], c[i + 2] - at[2]];
  const vx = velocity[0] + w[1] * z - w[2] * y;
  const vy = velocity[1] + w[2] * x - w[0] * z;
  const vz = velocity[2] + w[0] * y - w[1] * x;
  const turn = Math.sqrt(w[0] * w[0] + w[1] * w[1] + w[2] * w[2]);
  return Math.sqrt(vx * vx + vy * vy + vz * vz) + turn * radius;
}

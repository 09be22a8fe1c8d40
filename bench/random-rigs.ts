import { IDENTITY_POSE } from "../core/base/pose.ts";
import { quatFromRollPitchYaw } from "../core/base/quat.ts";
import { seededRandom } from "../core/base/random.ts";
import { normalise, type Vec3 } from "../core/base/vec3.ts";
import type { ResolvedJoint, ResolvedRig } from "../core/rig/resolved-rig.ts";

const NOWHERE = { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 };

/**
 * Serial chains of 2 to 10 driven axes, the same for the same seed: two thirds turn, most directions along the frame's own
 * axes, some frames turned, some axes followed by another one.
 */
export function randomRig(seed: number): ResolvedRig {
  const random = seededRandom(seed);
  const between = (low: number, high: number): number => low + random() * (high - low);
  const vector = (size: number): Vec3 => [between(-size, size), between(-size, size), between(-size, size)];
  const along = (): Vec3 => {
    if (random() < 0.3) return normalise(vector(1)) ?? [0, 0, 1];
    const axis = Math.floor(3 * random());
    const sign = random() < 0.5 ? -1 : 1;
    return [axis === 0 ? sign : 0, axis === 1 ? sign : 0, axis === 2 ? sign : 0];
  };
  const count = 2 + Math.floor(9 * random());
  const joints: ResolvedJoint[] = [];
  for (let i = 0; i < count; i++) {
    const type = random() < 0.67 ? "rotary" : "linear";
    const [middle, half] =
      type === "rotary" ? [between(-1, 1), between(0.5, 3.1)] : [between(-0.5, 0.5), between(0.2, 1.5)];
    const turn =
      random() < 0.25 ? quatFromRollPitchYaw(between(-3, 3), between(-1.5, 1.5), between(-3, 3)) : IDENTITY_POSE.turn;
    const origin = { at: random() < 0.2 ? ([0, 0, 0] as const) : vector(0.6), turn };
    const range = { low: middle - half, high: middle + half };
    const common = { origin, limits: {}, origins: NOWHERE };
    joints.push({ name: `a${i + 1}`, type, role: "driven", along: along(), range, ...common });
    if (random() < 0.15) {
      const follows = {
        leader: joints.length - 1,
        ratio: random() < 0.5 ? -1 : between(-1, 1),
        offset: between(-0.2, 0.2),
      };
      joints.push({
        name: `f${i + 1}`,
        type,
        role: "follows",
        along: along(),
        follows,
        ...common,
        origin: { at: vector(0.4), turn },
      });
    }
  }
  const mount = { at: vector(0.15), turn: IDENTITY_POSE.turn };
  return { name: `random rig ${seed}`, joints, mount, bodies: [], masses: [], origin: 0 };
}

import type { Vec3 } from "../base/vec3.ts";
import { createPoseBuffer, fillFollowers, forward, pupilPosition, type BaseFrame, type Chain } from "../rig/chain.ts";
import { jacobian } from "../rig/jacobian.ts";
import { travel } from "../rig/travel.ts";
import { dampedStep } from "./least-squares-step.ts";
import type { SolveStatus } from "./trajectory.ts";

const ROUNDS = 200;
/** Farthest that an axis goes in one round [rad or m]. */
const LONGEST = 0.3;
/** A pupil this near is there [m]. */
const THERE = 1e-9;

export interface PlacedPupil {
  readonly status: SolveStatus;
  /** Shape (n,), followers filled. */
  readonly q: Float64Array;
  /** When out of reach: where the pupil comes to [m] and how far off that is. */
  readonly nearest?: Vec3;
  readonly distance?: number;
}

/**
 * Brings the entrance pupil to a place while nothing is aimed at, from the preferred values, with the axes `free` inside
 * their travel: damped least squares, at each round over the transposed Jacobian, so that of many ways the shortest is
 * taken.
 */
export function placePupil(
  chain: Chain,
  base: BaseFrame,
  preferred: Float64Array,
  free: readonly number[],
  position: Vec3,
  pupil: number,
): PlacedPupil {
  const limits = travel(chain);
  const q = Float64Array.from(preferred);
  const pose = createPoseBuffer(chain);
  const at = new Float64Array(3);
  const columns = new Float64Array(6 * chain.count);
  const miss = new Float64Array(3);
  const measure = (): number => {
    fillFollowers(chain, q);
    forward(chain, base, q, pose);
    pupilPosition(pose, pupil, at);
    for (let r = 0; r < 3; r++) miss[r] = at[r] - position[r];
    return Math.hypot(miss[0], miss[1], miss[2]);
  };
  const square = new Float64Array(9);
  const weights = new Float64Array(3);
  const step = new Float64Array(chain.count);
  const beyond = (value: number, joint: number): boolean => value < limits.low[joint] || limits.high[joint] < value;
  let left = measure();
  let damping = 1e-9;
  for (let round = 0; round < ROUNDS && THERE < left; round++) {
    const before = Float64Array.from(q);
    jacobian(chain, pose, at, columns);
    let moving = free.filter((joint) => limits.low[joint] <= limits.high[joint]);
    let stopped: readonly number[];
    do {
      writeStep(columns, moving, miss, damping, square, weights, step);
      // Axes that stand at an end of their travel and would go on leave the others to do it.
      stopped = moving.filter((joint) =>
        step[joint] === 0
          ? false
          : beyond(q[joint] - step[joint], joint) && beyond(q[joint] - 1e-12 * Math.sign(step[joint]), joint),
      );
      moving = moving.filter((joint) => !stopped.includes(joint));
    } while (0 < stopped.length);
    for (const joint of moving) {
      const next = q[joint] - Math.min(LONGEST, Math.max(-LONGEST, step[joint]));
      q[joint] = Math.min(Math.max(next, limits.low[joint]), limits.high[joint]);
    }
    const now = measure();
    if (now < left) {
      left = now;
      damping = Math.max(1e-12, damping / 4);
      continue;
    }
    q.set(before);
    left = measure();
    damping *= 16;
    if (1 < damping) break;
  }
  if (left <= THERE) return { status: "converged", q };
  return { status: "out-of-reach", q, nearest: [at[0], at[1], at[2]], distance: left };
}

/** step = Jᵀ (J Jᵀ + d)⁻¹ miss for the moving joints. */
function writeStep(
  columns: Float64Array,
  moving: readonly number[],
  miss: Float64Array,
  damping: number,
  square: Float64Array,
  weights: Float64Array,
  step: Float64Array,
): void {
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      square[3 * r + c] = moving.reduce((sum, joint) => sum + columns[6 * joint + r] * columns[6 * joint + c], 0);
    }
  }
  dampedStep(square, miss, 3, 3, damping, weights);
  step.fill(0);
  for (const joint of moving) for (let r = 0; r < 3; r++) step[joint] += columns[6 * joint + r] * weights[r];
}

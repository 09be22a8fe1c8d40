import { seededRandom } from "../base/random.ts";
import { solveArm, type ArmForm, type ArmRoom } from "./arm-form.ts";
import { fillFollowers, forward, LINEAR, ownFrame, type Chain } from "./chain.ts";

/**
 * Finds three of the axes whose form is closed, by trying each form on poses of the chain: what is found holds for any
 * values of the others. Prefers to leave the axes next to the base to be chosen.
 *
 * @param axes Joint indices in chain order.
 */
export function findArmForm(room: ArmRoom, axes: readonly number[]): ArmForm | undefined {
  for (let k = axes.length - 1; 2 <= k; k--) {
    for (let j = k - 1; 1 <= j; j--) {
      for (let i = j - 1; 0 <= i; i--) {
        const found = formsOf(room.chain, axes[i], axes[j], axes[k]).find((form) => holds(room, form));
        if (found) return found;
      }
    }
  }
  return undefined;
}

function formsOf(chain: Chain, i: number, j: number, k: number): ArmForm[] {
  const slides = (axis: number): boolean => chain.kind[axis] === LINEAR;
  const forms: ArmForm[] = [];
  for (const [lone, a, b] of [
    [i, j, k],
    [j, i, k],
    [k, i, j],
  ]) {
    const [first, second] = slides(a) && !slides(b) ? [b, a] : [a, b];
    const pair = slides(first) ? "slides" : slides(second) ? "turn-and-slide" : "turns";
    for (const plane of slides(lone) || lone !== i ? (["still"] as const) : (["turned", "still"] as const)) {
      for (const rides of pair === "slides" ? [false] : [true, false]) {
        forms.push({ plane, lone, first, second, pair, rides });
      }
    }
  }
  return forms;
}

const TRIALS = 3;

function holds(room: ArmRoom, form: ArmForm): boolean {
  const { chain, pose, q, solutions } = room;
  const random = seededRandom(0xa4);
  const base = ownFrame();
  for (let trial = 0; trial < TRIALS; trial++) {
    chain.rig.joints.forEach(({ range, type }, i) => {
      const [low, high] = range ? [range.low, range.high] : [-1.5, 1.5];
      q[i] = type === "fixed" ? 0 : low + random() * (high - low);
    });
    fillFollowers(chain, q);
    forward(chain, base, q, pose);
    const [x, y, z] = pose.mountPosition;
    const found = solveArm(room, form, base, x, y, z, false);
    if (found === 0) return false;
    const slack = 1e-8 * (1 + Math.hypot(x, y, z));
    for (let k = 0; k < found; k++) {
      q[form.lone] = solutions[3 * k];
      q[form.first] = solutions[3 * k + 1];
      q[form.second] = solutions[3 * k + 2];
      fillFollowers(chain, q);
      forward(chain, base, q, pose);
      const at = pose.mountPosition;
      if (!(Math.hypot(at[0] - x, at[1] - y, at[2] - z) < slack)) return false;
    }
  }
  return true;
}

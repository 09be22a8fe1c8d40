import type { Vec3 } from "../core/base/vec3.ts";
import type { ResolvedMove, ResolvedTarget } from "../core/motion/resolved-move.ts";
import { Failure } from "./failure.ts";

/**
 * The move as pass `name` plays it: its targets shifted, each in the frame that its place is given in (the turntable's
 * for a target on one). Nothing is drawn at random: what repeats with an error plays here without one.
 */
export function applyPass(move: ResolvedMove, name: string): ResolvedMove {
  const pass = move.passes.find((one) => one.name === name);
  if (!pass) {
    const names = move.passes.map((one) => one.name).join(", ");
    throw new Failure(`the move has no pass ${name}; ${names === "" ? "it has none" : `it has ${names}`}`);
  }
  const targets = move.targets.map((target, idx) => shifted(target, pass.targets[idx]));
  return { ...move, targets };
}

function shifted(target: ResolvedTarget, shift: Vec3 | undefined): ResolvedTarget {
  if (!shift) return target;
  const moved = (at: Vec3): Vec3 => [at[0] + shift[0], at[1] + shift[1], at[2] + shift[2]];
  const follow = target.follow?.map(({ time, to }) => ({ time, to: moved(to) }));
  return { ...target, at: moved(target.at), ...(follow ? { follow } : {}) };
}

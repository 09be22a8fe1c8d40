import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedMove, ResolvedPass, ResolvedTarget } from "./resolved-move.ts";

/**
 * The move as a pass plays it: its targets shifted, each in the frame that its place is given in (the turntable's for a
 * target on one). Nothing is drawn at random: what repeats with an error plays here without one.
 */
export function passVariant(move: ResolvedMove, { targets }: Pick<ResolvedPass, "targets">): ResolvedMove {
  return { ...move, targets: move.targets.map((target, idx) => shifted(target, targets[idx])) };
}

function shifted(target: ResolvedTarget, shift: Vec3 | undefined): ResolvedTarget {
  if (!shift) return target;
  const moved = (at: Vec3): Vec3 => [at[0] + shift[0], at[1] + shift[1], at[2] + shift[2]];
  const follow = target.follow?.map(({ time, to }) => ({ time, to: moved(to) }));
  return { ...target, at: moved(target.at), ...(follow ? { follow } : {}) };
}

import type { AxisIndex, ResolvedMove } from "../motion/resolved-move.ts";
import { aimingAxes } from "../model/move-context.ts";

/** Whether an aim holds from key `key` on. */
export function aimHolds({ keys }: ResolvedMove, key: number): boolean {
  for (let i = key; 0 <= i; i--) {
    const { aim } = keys[i];
    if (aim) return aim.kind === "target";
  }
  return false;
}

/** Whether an aim holds just before key `key` or from it on. */
export function isAimed(move: ResolvedMove, key: number): boolean {
  return aimHolds(move, key) || aimHolds(move, key - 1);
}

/** Driven axes that key `key` may give: not those that an aim solves there, nor the head's roll where `roll` gives it. */
export function writableAxes(move: ResolvedMove, key: number): readonly AxisIndex[] {
  const aiming = isAimed(move, key) ? aimingAxes(move.rig, move.axes) : new Set<number>();
  return move.axes.flatMap((axis, index) => {
    if (axis.role !== "driven" || aiming.has(index)) return [];
    // A roll that no key gives among its axes is a matter of `roll`, or rests.
    const isRoll = 0 <= axis.joint && move.rig.head?.roll === axis.joint;
    if (isRoll && !move.keys.some((one) => one.axes.some((given) => given.axis === index))) return [];
    return [index];
  });
}

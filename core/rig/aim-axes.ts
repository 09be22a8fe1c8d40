import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedRig } from "./resolved-rig.ts";

/**
 * What holds the camera about its view: the roll axis, which keeps the value it is given (or nothing, when the rig has
 * none); or a horizon turned by `angle` [rad, right-hand about the view] from level, level meaning that the camera's left
 * is square to `up` and its top on `up`'s side.
 */
export type RollRule =
  { readonly kind: "axis" } | { readonly kind: "horizon"; readonly angle: number; readonly up: Vec3 };

/** Which joints an aim solves, and by which rule. */
export interface AimPlan {
  /** Joint indices: as many as there are equations, where the rig has them. */
  readonly axes: readonly number[];
  readonly rule: RollRule;
  /** The joint that is to be set to the roll's value before solving; absent when roll is solved or free. */
  readonly rollAxis?: number;
}

/** Joint indices of the axes that aim: the head's pan, tilt and roll; without a head the last driven turning axes, at most three. */
export function aimAxes(rig: ResolvedRig): number[] {
  if (rig.head) {
    const { pan, tilt, roll } = rig.head;
    return roll === undefined ? [pan, tilt] : [pan, tilt, roll];
  }
  const turning = rig.joints.flatMap((joint, index) =>
    joint.type === "rotary" && joint.role === "driven" ? [index] : [],
  );
  return turning.slice(-3);
}

/**
 * Unknowns and roll rule of an aim.
 *
 * @param roll Value of the roll [rad], or `level`.
 * @param up   Direction in the set that counts as up: z unless the text says otherwise. Unit.
 */
export function aimPlan(rig: ResolvedRig, roll: number | "level", up: Vec3 = [0, 0, 1]): AimPlan {
  const axes = aimAxes(rig);
  if (axes.length < 3) return { axes, rule: { kind: "axis" } };
  if (!rig.head || roll === "level") {
    return { axes, rule: { kind: "horizon", angle: roll === "level" ? 0 : roll, up } };
  }
  return { axes: axes.slice(0, 2), rule: { kind: "axis" }, rollAxis: axes[2] };
}

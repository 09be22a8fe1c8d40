import { applyPose } from "../base/pose.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import type { ResolvedRig } from "../rig/resolved-rig.ts";

/** [m/s²] The standard acceleration of free fall (CGPM, 1901). */
export const GRAVITY = 9.80665;

/** All that a rig weighs, as points on its links: its own masses, its counterweight, and the camera at the mount. */
export interface MassPoints {
  readonly count: number;
  /** Shape (count,): joint index, -1 for the base. */
  readonly link: Int32Array;
  /** Shape (count, 3): places in the frames of the links [m]. */
  readonly at: Float64Array;
  /** Shape (count,) [kg], above 0. */
  readonly mass: Float64Array;
  /** Which of them is the counterweight; -1 without one. */
  readonly counterweight: number;
}

/** What the head carries, each in the flange's frame: x along the view, y left, z up. */
export function carriedByHead(
  optics: ResolvedOptics,
): { readonly name: string; readonly at: Vec3; readonly mass: number }[] {
  return [
    { name: optics.cameraName, at: optics.bodyMassAt, mass: optics.bodyMass },
    { name: optics.lensName, at: optics.lensMassAt, mass: optics.lensMass },
    ...optics.attachments,
  ].map(({ name, at, mass }) => ({ name, at, mass }));
}

/** The masses of a rig with a camera on it; those of 0 kg are left out. */
export function massPoints(rig: ResolvedRig, optics: ResolvedOptics): MassPoints {
  const last = rig.joints.length - 1;
  const camera = carriedByHead(optics).map(({ at, mass }) => ({ link: last, at: applyPose(rig.mount, at), mass }));
  const points = [...rig.masses, ...camera].filter(({ mass }) => 0 < mass);
  const weight = rig.counterweight && 0 < rig.counterweight.mass ? [rig.counterweight] : [];
  const all: readonly { readonly link: number; readonly at: Vec3; readonly mass: number }[] = [...points, ...weight];
  return {
    count: all.length,
    link: Int32Array.from(all, ({ link }) => link),
    at: Float64Array.from(all.flatMap(({ at }) => at)),
    mass: Float64Array.from(all, ({ mass }) => mass),
    counterweight: weight.length > 0 ? points.length : -1,
  };
}

import { writeJointRow } from "../motion/joint-rows.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Instant } from "../motion/trajectory.ts";
import { baseFrame, compileRig, type BaseFrame, type Chain } from "../rig/chain.ts";
import {
  createLinkMotion,
  createPointMotion,
  moveLinks,
  type LinkMotion,
  type PointMotion,
} from "../rig/link-motion.ts";
import { feetOf, type Feet } from "./feet.ts";
import { massPoints, type MassPoints } from "./mass-points.ts";
import { createPull, writePull, type Pull } from "./pressure-point.ts";

/** A rig on its feet, with room for one instant. */
export interface Stand {
  readonly feet: Feet;
  /** Joint index of the link that the feet are on, -1 for the base. */
  readonly link: number;
  /** Wholly overwritten by `writeStand`. */
  readonly pull: Pull;
  readonly chain: Chain;
  readonly base: BaseFrame;
  readonly points: MassPoints;
  readonly motion: LinkMotion;
  readonly point: PointMotion;
  readonly values: Float64Array;
  readonly speeds: Float64Array;
  readonly accels: Float64Array;
}

/** Undefined where nothing can be told: for a rig that states no feet, or none of its own masses. */
export function createStand({ rig, optics, base }: ResolvedMove): Stand | undefined {
  if (!rig.support || rig.masses.length === 0) return undefined;
  const chain = compileRig(rig);
  return {
    feet: feetOf(rig.support.corners),
    link: rig.support.link,
    pull: createPull(),
    chain,
    base: baseFrame(base),
    points: massPoints(rig, optics),
    motion: createLinkMotion(chain),
    point: createPointMotion(),
    values: new Float64Array(chain.count),
    speeds: new Float64Array(chain.count),
    accels: new Float64Array(chain.count),
  };
}

/** The pull on what stands on the feet at one instant of a move, rates included. Allocates nothing. */
export function writeStand(stand: Stand, { axes }: ResolvedMove, { value, speed, accel }: Instant): void {
  const { chain, base, points, motion, point, values, speeds, accels, link, pull } = stand;
  writeJointRow(axes, value, values);
  writeJointRow(axes, speed, speeds);
  writeJointRow(axes, accel, accels);
  moveLinks(chain, base, values, speeds, accels, motion);
  writePull(base, motion, points, link, point, pull);
}

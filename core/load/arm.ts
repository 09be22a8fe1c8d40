import { writeJointRow } from "../motion/joint-rows.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import { baseFrame, compileRig, createPoseBuffer, fillFollowers, forward } from "../rig/chain.ts";
import type { BaseFrame, Chain, PoseBuffer } from "../rig/chain.ts";
import type { Counterweight } from "../rig/resolved-rig.ts";
import { pivotOf, writeArmMoment, type ArmMoment } from "./arm-moment.ts";
import { massPoints, type MassPoints } from "./mass-points.ts";

/** An arm with its counterweight, with room for one pose. */
export interface Arm {
  readonly weight: Counterweight;
  /** The turning joint that is to be in balance. */
  readonly pivot: number;
  /** The axis that moves it: itself, unless it follows one. */
  readonly leader: number;
  /** Wholly overwritten by `writeArm` and `turnArm`. */
  readonly moment: ArmMoment;
  readonly chain: Chain;
  readonly base: BaseFrame;
  readonly points: MassPoints;
  readonly pose: PoseBuffer;
  /** Values of all joints. */
  readonly values: Float64Array;
  readonly room: Float64Array;
}

/** Undefined without a counterweight, without masses that it could balance, or where it does not turn about any axis. */
export function createArm({ rig, optics, base }: ResolvedMove): Arm | undefined {
  const weight = rig.counterweight;
  if (!weight || rig.masses.length === 0) return undefined;
  const chain = compileRig(rig);
  const pivot = pivotOf(chain, weight.link);
  if (pivot === undefined) return undefined;
  return {
    weight,
    pivot,
    leader: chain.root[pivot],
    moment: { load: 0, perWeight: 0, level: 0, radius: 0 },
    chain,
    base: baseFrame(base),
    points: massPoints(rig, optics),
    pose: createPoseBuffer(chain),
    values: new Float64Array(chain.count),
    room: new Float64Array(3),
  };
}

/** The moments at one instant of a move. Allocates nothing. */
export function writeArm(arm: Arm, { axes }: ResolvedMove, row: Float64Array): void {
  writeJointRow(axes, row, arm.values);
  write(arm);
}

/** The moments with the leading axis at `value`, everything else as it was last. Allocates nothing. */
export function turnArm(arm: Arm, value: number): void {
  arm.values[arm.leader] = value;
  fillFollowers(arm.chain, arm.values);
  write(arm);
}

function write({ chain, base, values, pose, points, pivot, weight, room, moment }: Arm): void {
  forward(chain, base, values, pose);
  writeArmMoment(chain, pose, points, pivot, weight, room, moment);
}

/** What a counterweight of `mass` kg leaves [N·m]; positive where the load is the heavier side as the joint's value rises. */
export const momentLeft = ({ load, perWeight }: ArmMoment, mass: number): number => load + mass * perWeight;

/** The same as a share of the load's moment with the arm level; Infinity where only the counterweight turns the arm. */
export function shareLeft(moment: ArmMoment, mass: number): number {
  const left = Math.abs(momentLeft(moment, mass));
  const least = 1e-9 * mass * moment.radius;
  return left <= least ? 0 : left / moment.level;
}

import type { Take } from "../../core/motion/take.ts";
import { baseFrame, compileRig, type BaseFrame, type Chain } from "../../core/rig/chain.ts";
import { unpackTake } from "../../protocol/codec.ts";
import type { StageTake } from "../../protocol/stage.ts";

/** A take ready to be played: samples unpacked, the rig compiled. */
export interface OpenTake {
  readonly stage: StageTake;
  readonly take: Take;
  readonly chain: Chain;
  readonly base: BaseFrame;
  /** Index into the axes of each joint, -1 for a fixed one. */
  readonly axisOfJoint: Int32Array;
  readonly keyTimes: readonly number[];
}

/** Opens what the extension sent. Throws on what its protocol never makes. */
export function openTake(stage: StageTake): OpenTake {
  const axisOfJoint = new Int32Array(stage.rig.joints.length).fill(-1);
  stage.axes.forEach((axis, index) => {
    if (axis.joint >= 0) axisOfJoint[axis.joint] = index;
  });
  return {
    stage,
    take: unpackTake(stage.samples),
    chain: compileRig(stage.rig),
    base: baseFrame(stage.base),
    axisOfJoint,
    keyTimes: stage.keys.map((key) => key.time),
  };
}

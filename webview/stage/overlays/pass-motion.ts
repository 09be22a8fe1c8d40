import { between, sampleBefore, shareOfWay, throughBoth } from "../../../core/base/sampling.ts";
import { createPoseBuffer, fillFollowers, forward, type PoseBuffer } from "../../../core/rig/chain.ts";
import { unpackNumbers } from "../../../protocol/codec.ts";
import type { StagePass, StagePasses } from "../../../protocol/stage-passes.ts";
import type { Moment } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";

/** One kind of pass at a moment. */
export interface PlayedPass {
  readonly name: string;
  readonly first: number;
  readonly last: number;
  /** True where it plays otherwise than the move itself. */
  readonly isOwn: boolean;
  readonly pose: PoseBuffer;
  /** Entrance pupil, shape (3,), and targets, shape (3 m,), in the set [m]. */
  readonly pupil: Float64Array;
  readonly targets: Float64Array;
  /** Radius that holds the subject in 95 of 100 takes [captured px]; NaN where it is not known. */
  radius: number;
  update(moment: Moment): void;
}

/** The kinds of pass of an answer, ready to be played. */
export function playedPasses(open: OpenTake, answer: Extract<StagePasses, { passes: unknown }>): PlayedPass[] {
  const times = unpackNumbers(answer.t);
  return answer.passes.map((pass) => playedPass(open, pass, times));
}

function playedPass(open: OpenTake, pass: StagePass, times: Float64Array): PlayedPass {
  const { chain, base, axisOfJoint, stage } = open;
  const error = pass.error && unpackNumbers(pass.error);
  const own = pass.motion && {
    t: unpackNumbers(pass.motion.t),
    value: unpackNumbers(pass.motion.value),
    speed: unpackNumbers(pass.motion.speed),
    position: unpackNumbers(pass.motion.position),
    targets: unpackNumbers(pass.motion.targets),
  };
  const q = new Float64Array(chain.count);
  const width = stage.axes.length;
  const played: PlayedPass = {
    name: pass.name,
    first: pass.first,
    last: pass.last,
    isOwn: own !== undefined,
    pose: createPoseBuffer(chain),
    pupil: new Float64Array(3),
    targets: new Float64Array(3 * stage.targets.length),
    radius: NaN,
    update(moment) {
      if (error) {
        const i = sampleBefore(times, moment.t);
        const next = Math.min(i + 1, times.length - 1);
        played.radius = between(error[i], error[next], shareOfWay(times, i, moment.t));
      }
      if (!own) {
        played.pupil.set(moment.pupil);
        played.targets.set(moment.targets);
        return;
      }
      const i = sampleBefore(own.t, moment.t);
      const next = Math.min(i + 1, own.t.length - 1);
      const way = shareOfWay(own.t, i, moment.t);
      const span = own.t[next] - own.t[i];
      for (let joint = 0; joint < chain.count; joint++) {
        const axis = axisOfJoint[joint];
        const [a, b] = [i * width + axis, next * width + axis];
        q[joint] = axis < 0 ? 0 : throughBoth(own.value[a], own.speed[a], own.value[b], own.speed[b], span, way);
      }
      fillFollowers(chain, q);
      forward(chain, base, q, played.pose);
      for (let k = 0; k < 3; k++) played.pupil[k] = between(own.position[3 * i + k], own.position[3 * next + k], way);
      const m = played.targets.length;
      for (let k = 0; k < m; k++) played.targets[k] = between(own.targets[i * m + k], own.targets[next * m + k], way);
    },
  };
  return played;
}

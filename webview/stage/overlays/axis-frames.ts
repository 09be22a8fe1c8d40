import { multiplyMatrices, transformPoint } from "../../../core/base/matrix3.ts";
import type { Moment } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";

/** Where joints stand before they move: they go along with their parents. Room for one of them at a time. */
export interface AxisFrames {
  /** Takes up an axis as it stands at a moment. A turntable stands in the set. */
  enter(axis: number, moment: Moment): void;
  /** A place in the frame of the axis, in the set [m]. */
  toSet(place: Float64Array, out: Float64Array): void;
}

export function createAxisFrames({ stage, chain, base }: OpenTake): AxisFrames {
  const rotation = new Float64Array(9);
  const position = new Float64Array(3);
  const upright = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  return {
    enter(axis, { pose }) {
      const { joint, turntable } = stage.axes[axis];
      if (joint < 0) {
        rotation.set(upright);
        position.set(stage.turntables[turntable].at);
        return;
      }
      const [r, at] = joint === 0 ? [base.rotation, 0] : [pose.rotations, 9 * (joint - 1)];
      const [p, to] = joint === 0 ? [base.position, 0] : [pose.positions, 3 * (joint - 1)];
      const o = chain.originPosition;
      for (let k = 0; k < 3; k++) {
        const row = at + 3 * k;
        position[k] = p[to + k] + r[row] * o[3 * joint] + r[row + 1] * o[3 * joint + 1] + r[row + 2] * o[3 * joint + 2];
      }
      multiplyMatrices(r, at, chain.originRotation, 9 * joint, rotation, 0);
    },
    toSet: (place, out) => transformPoint(position, 0, rotation, 0, place[0], place[1], place[2], out, 0),
  };
}

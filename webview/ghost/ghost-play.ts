import type { Task } from "../../core/base/task.ts";
import { compareTakes, type Comparison } from "../../core/compare/compare-takes.ts";
import { otherTime, type Alignment, type ComparedMove } from "../../core/compare/compared-move.ts";
import { pictureShift } from "../../core/compare/picture-shift.ts";
import type { StageGhost } from "../../protocol/stage-ghost.ts";
import { createMoment, momentAt, type Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";

/** A move and the one that it is compared with, played together. SI, and px of the delivered picture. */
export interface GhostPlay {
  readonly open: OpenTake;
  readonly ghost: OpenTake;
  readonly label: string;
  readonly notes: readonly string[];
  readonly alignment: Alignment;
  /** What they differ in at most; absent until it was looked for. */
  comparison: Comparison | undefined;
  /** Looks for it: long for long moves, so that it is done in slices. */
  compare(): Task<Comparison>;
  /** The ghost at the instant that is set against the move's. */
  readonly moment: Moment;
  /** Targets that both have, in the order of the comparison's, by their indices in each. */
  readonly targets: readonly { readonly name: string; readonly here: number; readonly there: number }[];
  /** Where each of them is with the ghost, and how far it has gone from there; shape (targets, 4); NaN where one of the two has no picture of it. */
  readonly shifts: Float64Array;
  /** Between the entrance pupils. */
  pupil: number;
  /** True beyond the end of the ghost, which rests there. */
  over: boolean;
  /** Brings all of it to an instant of the move. */
  follow(moment: Moment): void;
}

export function createGhostPlay(
  open: OpenTake,
  ghost: OpenTake,
  { label, notes }: StageGhost,
  alignment: Alignment,
): GhostPlay {
  const [one, other] = [comparedOf(open), comparedOf(ghost)];
  const targets = open.stage.targets.flatMap(({ name }, here) => {
    const there = ghost.stage.targets.findIndex((target) => target.name === name);
    return there < 0 ? [] : [{ name, here, there }];
  });
  const [framing, ghostFraming, shift] = [new Float64Array(2), new Float64Array(2), new Float64Array(4)];
  const play: GhostPlay = {
    ...{ open, ghost, label, notes, alignment, targets },
    comparison: undefined,
    compare: () => compareTakes(one, other, alignment),
    moment: createMoment(ghost),
    shifts: new Float64Array(4 * targets.length),
    pupil: 0,
    over: false,
    follow(moment) {
      const t = otherTime(one, other, moment.t, alignment);
      play.over = t === undefined;
      momentAt(ghost, t ?? ghost.stage.duration, play.moment);
      const [a, b] = [moment.pupil, play.moment.pupil];
      play.pupil = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
      for (let k = 0; k < targets.length; k++) {
        const { here, there } = targets[k];
        for (let c = 0; c < 2; c++) {
          framing[c] = moment.framing[2 * here + c];
          ghostFraming[c] = play.moment.framing[2 * there + c];
        }
        pictureShift(one.picture, framing, other.picture, ghostFraming, shift);
        play.shifts.set(shift, 4 * k);
      }
    },
  };
  return play;
}

function comparedOf({ stage, take }: OpenTake): ComparedMove {
  const { duration, axes, targets, optics, deliver } = stage;
  return { take, duration, axes, targets, picture: { resolution: optics.resolution, deliver } };
}

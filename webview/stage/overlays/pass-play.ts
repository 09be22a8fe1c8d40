import type { StagePasses } from "../../../protocol/stage-passes.ts";
import { unpackNumbers } from "../../../protocol/codec.ts";
import type { Moment } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";
import { playedPasses, type PlayedPass } from "./pass-motion.ts";

/** The passes of a move beside each other at the moment that was taken up last. */
export interface PassPlay {
  readonly passes: readonly PlayedPass[];
  /** Of each pass in its order, told apart by dashes: length of a dash with its gap and what is drawn of it, in shares. */
  readonly dashes: readonly (readonly [period: number, share: number] | undefined)[];
  /** How many times as large as it is the pass error is drawn. */
  readonly magnified: number;
  /** What passes may be off each other at most [captured px]. */
  readonly match: number;
  update(moment: Moment): void;
}

const DASHES = [undefined, [1, 0.6], [0.5, 0.5], [1.6, 0.8], [0.3, 0.4], [2.2, 0.5]] as const;
/** Errors of a few px are smaller than a px of the stage: the largest of the take is drawn no larger than this share of the width. */
const LARGEST = 0.06;
const TIMES = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

export function createPassPlay(open: OpenTake, answer: Extract<StagePasses, { passes: unknown }>): PassPlay {
  const passes = playedPasses(open, answer);
  let most = 0;
  for (const { error } of answer.passes) {
    if (error) for (const radius of unpackNumbers(error)) if (radius > most) most = radius;
  }
  const room = (LARGEST * open.stage.optics.resolution[0]) / most;
  return {
    passes,
    dashes: passes.map((_, i) => DASHES[i % DASHES.length]),
    magnified: most > 0 ? TIMES.reduce((best, times) => (times <= room ? times : best), 1) : 1,
    match: answer.match,
    update(moment) {
      for (const pass of passes) pass.update(moment);
    },
  };
}

/** `pass 1 glazed`, `passes 2 to 4 bare`. */
export const passWords = ({ first, last, name }: Pick<PlayedPass, "first" | "last" | "name">): string =>
  first === last ? `pass ${first} ${name}` : `passes ${first} to ${last} ${name}`;

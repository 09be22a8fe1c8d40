import { frameAt } from "../../core/base/rate.ts";
import { formatTimecode } from "../../core/base/timecode.ts";
import type { StageFinding } from "../../protocol/stage.ts";
import type { OpenTake } from "./open-take.ts";
import { shareReading } from "./reading.ts";
import { sampleBefore } from "../../core/base/sampling.ts";
import { ORDERS, worstAt, type Worst } from "./share.ts";

/** Frame number as the labels of the move count, at `time` [s]. */
export function frameOf(open: OpenTake, time: number): number {
  return open.stage.startFrame + frameAt(open.stage.rate, time);
}

export function timecodeOf(open: OpenTake, time: number): string {
  return formatTimecode(frameOf(open, time), open.stage.rate);
}

/** Both, as they are read aloud. */
export function instantWords(open: OpenTake, time: number): string {
  return `${timecodeOf(open, time)}, frame ${frameOf(open, time)}`;
}

/** The axis and limit that are used most at `time`; `undefined` when no axis states one. */
export function worstOf(open: OpenTake, time: number): Worst | undefined {
  return worstAt(open, nearestSample(open, time));
}

/** `pan speed 87 %`. */
export function worstWords(open: OpenTake, worst: Worst | undefined): string {
  if (worst === undefined) return "no limits stated";
  return `${open.stage.axes[worst.axis].name} ${ORDERS[worst.order]} ${shareReading(worst.share)}`;
}

/** When a finding holds, in labels; empty when it has no time. */
export function spanWords(open: OpenTake | undefined, finding: StageFinding): string {
  if (open === undefined || finding.time === undefined) return "";
  const { from, to } = finding.time;
  return from === to ? timecodeOf(open, from) : `${timecodeOf(open, from)} to ${timecodeOf(open, to)}`;
}

function nearestSample(open: OpenTake, time: number): number {
  const { t, count } = open.take;
  const before = sampleBefore(t, time);
  if (before + 1 >= count) return before;
  return time - t[before] > t[before + 1] - time ? before + 1 : before;
}

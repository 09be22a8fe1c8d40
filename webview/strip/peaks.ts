import { sampleAt, type Samples } from "./samples.ts";

/** A line as peaks are looked for in it. */
export interface Peaked {
  readonly samples: Samples;
  /** How bad a number is: 1 at its limit, more beyond; below 0 of a line without a limit. NaN for what does not count. */
  readonly badness: (value: number, sample: number) => number;
}

export interface Peak {
  /** Index into the lines. */
  readonly line: number;
  /** Of the sample, and its time [s]. */
  readonly sample: number;
  readonly time: number;
  readonly badness: number;
}

/** Peaks nearer to a worse one than this share of the move are the same to who goes from one to the next. */
const APART = 1 / 200;
const MOST = 40;

/**
 * The worst places of all lines, the worst first; of a plateau its first instant. At most 40, each apart from the others;
 * where all is at 0 there is none.
 */
export function findPeaks(lines: readonly Peaked[], duration: number): readonly Peak[] {
  const all = lines.flatMap((one, line) => peaksOf(one, line));
  all.sort((a, b) => b.badness - a.badness || a.time - b.time || a.line - b.line);
  const found: Peak[] = [];
  for (const peak of all) {
    if (found.length === MOST) break;
    if (found.every(({ time }) => Math.abs(time - peak.time) >= duration * APART)) found.push(peak);
  }
  return found;
}

function peaksOf({ samples, badness }: Peaked, line: number): Peak[] {
  const out: Peak[] = [];
  const { times } = samples;
  const note = (sample: number, value: number): void => {
    if (value !== 0) out.push({ line, sample, time: times[sample], badness: value });
  };
  let before = -Infinity;
  /** The first sample of what may be a peak, or -1 while it goes down. */
  let rising = -1;
  for (let i = 0; i < times.length; i++) {
    const told = badness(sampleAt(samples, i), i);
    const value = Number.isNaN(told) ? -Infinity : told;
    if (value > before) rising = i;
    else if (value < before && rising >= 0) {
      note(rising, before);
      rising = -1;
    }
    before = value;
  }
  if (rising >= 0 && before > -Infinity) note(rising, before);
  return out;
}

import type { Comparison } from "../../core/compare/compare-takes.ts";
import { timecodeOf } from "../take/words.ts";
import { readFactor, unitOf } from "../take/reading.ts";
import type { GhostPlay } from "./ghost-play.ts";

/** `34.2 mm`; less than a tenth of a millimetre is none. */
export function pupilWords(distance: number): string {
  return `${(distance * 1000).toFixed(1)} mm`;
}

/** `12 px`, to a tenth below ten. */
export function pixelWords(px: number): string {
  return `${px.toFixed(px < 9.95 ? 1 : 0)} px`;
}

/** `0.120 m`, `3.40 °`. */
export function axisWords(type: "linear" | "rotary", value: number): string {
  return `${(value * readFactor(type)).toFixed(type === "linear" ? 3 : 2)} ${unitOf(type, 0)}`;
}

/** Less than is read of an axis is no difference [m or rad]. */
const UNREAD = { linear: 0.0005, rotary: (0.005 * Math.PI) / 180 } as const;

export const differs = ({ type, difference }: Comparison["axes"][number]): boolean => difference.value >= UNREAD[type];

/** The target that is looked at: the one aimed at where both have it, else the one that goes farthest now; -1 for none. */
export function subjectOf({ targets, shifts }: GhostPlay, aimed: number): number {
  const subject = targets.findIndex(({ here }) => here === aimed);
  if (subject >= 0) return subject;
  let farthest = -1;
  let most = -1;
  targets.forEach((_, k) => {
    const shift = Math.hypot(shifts[4 * k + 2], shifts[4 * k + 3]);
    if (shift > most) [farthest, most] = [k, shift];
  });
  return farthest;
}

/** What cannot be compared, and what there is to say of it, as sentences. */
export function ghostNotes({ notes, label, open }: GhostPlay, comparison: Comparison): string[] {
  const { duration, otherDuration, until, onlyOne, onlyOther } = comparison;
  const seconds = (value: number): string => `${Number(value.toFixed(3))} s`;
  const longer =
    duration === otherDuration
      ? []
      : [
          `This move takes ${seconds(duration)}, ${label} ${seconds(otherDuration)}.` +
            (until < duration ? ` Beyond ${timecodeOf(open, until)} there is nothing to compare with.` : ""),
        ];
  const only = (whose: string, { axes, targets }: Comparison["onlyOne"]): string[] => {
    const names = [...axes.map((name) => `axis ${name}`), ...targets.map((name) => `target ${name}`)];
    return names.length === 0 ? [] : [`Only ${whose} has ${names.join(", ")}.`];
  };
  const same = comparison.axes.filter((axis) => !differs(axis)).map(({ name }) => name);
  const equal = same.length === 0 ? [] : [`The same in both: ${same.join(", ")}.`];
  return [...equal, ...longer, ...only("this move", onlyOne), ...only(label, onlyOther), ...notes];
}

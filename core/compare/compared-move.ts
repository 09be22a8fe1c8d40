import type { Take } from "../motion/take.ts";

/** A sampled move with what its numbers mean: one side of a comparison. SI. */
export interface ComparedMove {
  readonly take: Take;
  readonly duration: number;
  /** In the order of the take's columns. */
  readonly axes: readonly { readonly name: string; readonly type: "linear" | "rotary" }[];
  readonly targets: readonly { readonly name: string }[];
  readonly picture: ComparedPicture;
}

/** Captured and delivered picture [px]; the delivered one is the middle of the captured one, px for px. */
export interface ComparedPicture {
  readonly resolution: readonly [number, number];
  readonly deliver: readonly [number, number];
}

/**
 * Which instants of two moves are set against each other: those of the same played time, which the shorter one ends, or
 * those at the same share of each move.
 */
export const ALIGNMENTS = ["time", "share"] as const;
export type Alignment = (typeof ALIGNMENTS)[number];

/**
 * Played time [s] of `other` that is set against `t` of `one`.
 *
 * @param t 0..one.duration [s].
 * @returns `undefined` beyond the end of `other`.
 */
export function otherTime(
  one: { readonly duration: number },
  other: { readonly duration: number },
  t: number,
  alignment: Alignment,
): number | undefined {
  if (alignment === "time") return t <= other.duration ? t : undefined;
  return one.duration > 0 ? Math.min((t / one.duration) * other.duration, other.duration) : 0;
}

import { seconds } from "../checks/figures.ts";
import type { MoveReview } from "../review/review.ts";
import { coded, plain, type Line } from "./review-outline.ts";

/** Nearer to a key than this, an instant is said to be at it [s]. */
const AT_KEY = 0.0005;

/** `at 2.4 s, key rise`, or `at 3.1 s, on the way to hold`: an instant by its time and by the keys of the move. */
export function momentWords(t: number, timeline: MoveReview["timeline"]): Line {
  const time = plain(`at ${seconds(t)}`);
  const at = timeline?.find((key) => Math.abs(key.at - t) <= AT_KEY);
  // A key without a name is called by its number already.
  if (at) return [time, plain(/^key \d+$/.test(at.key) ? ", " : ", key "), coded(at.key)];
  const next = timeline?.find((key) => t < key.at);
  return next ? [time, plain(", on the way to "), coded(next.key)] : [time];
}

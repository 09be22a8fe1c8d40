import { writeTimes, type TimeEdits } from "../../../core/edit/times/time-edits.ts";
import { stretched } from "../../../core/motion/retime.ts";
import type { Stretch } from "./stretch-search.ts";
import type { Solved, View } from "../view.ts";

/** The text edits that give the keys the stretched times, in the units in which they are written; or why there are none. */
export function stretchEdits({ text, tree }: View, { move }: Solved, stretch: Stretch): TimeEdits {
  return writeTimes({ text, tree, move }, stretched(move, stretch, stretch.factor));
}

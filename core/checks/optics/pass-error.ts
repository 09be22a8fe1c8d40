import type { Task } from "../../base/task.ts";
import type { CheckContext } from "../check.ts";

/** How far the last pass may be off the first at the target, at 95 % [captured px]; 0 for a move of one pass. */
// eslint-disable-next-line require-yield -- A task like the costly ones.
export function* passError(_context: CheckContext): Task<number> {
  return 0;
}

import type { Task } from "../../base/task.ts";
import type { CheckContext } from "../check.ts";
import { lastPassError } from "../passes/last-pass.ts";

/** How far the last pass may be off the first at the target, at 95 % [captured px]; 0 for a move of one pass. */
export function* passError(context: CheckContext): Task<number> {
  return (yield* lastPassError(context))?.p95 ?? 0;
}

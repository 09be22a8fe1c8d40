import type { Task } from "../../core/base/task.ts";

/** No work at all: run behind all else, it lets in what waits. */
export function* rest(): Task<void> {
  yield;
}

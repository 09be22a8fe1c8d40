import type { Task } from "../../core/base/task.ts";

/** How long the page is kept from its pictures at a time [ms]. */
const SLICE = 6;

/** Runs a task between pictures and hands over what it comes to. @returns Stops it; `done` is then not called. */
export function runInSlices<T>(task: Task<T>, done: (value: T) => void): () => void {
  let timer = window.setTimeout(go);
  function go(): void {
    const end = performance.now() + SLICE;
    do {
      const step = task.next();
      if (step.done) return done(step.value);
    } while (performance.now() < end);
    timer = window.setTimeout(go);
  }
  return () => window.clearTimeout(timer);
}

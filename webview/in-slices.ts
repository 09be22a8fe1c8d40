import type { Task } from "../core/base/task.ts";

/** How long one slice may keep the page from its pictures [ms], and the rest between two, in which pictures are drawn. */
const SLICE_MS = 5;

/**
 * Runs long work in slices between the pictures.
 *
 * @param done Called with its result, unless it was stopped.
 * @returns Stops it.
 */
export function runInSlices<T>(task: Task<T>, done: (result: T) => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const slice = (): void => {
    const end = performance.now() + SLICE_MS;
    do {
      const step = task.next();
      if (step.done) {
        timer = undefined;
        done(step.value);
        return;
      }
    } while (performance.now() < end);
    timer = setTimeout(slice, 0);
  };
  timer = setTimeout(slice, 0);
  return () => clearTimeout(timer);
}

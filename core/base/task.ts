/**
 * Long work is written as a generator that yields now and then. The driver decides what a yield means: the server runs
 * slices and drops stale versions, the command line and the tests run to the end.
 */
export type Task<T> = Generator<void, T, void>;

/** Runs a task to its end. */
export function runToEnd<T>(task: Task<T>): T {
  for (;;) {
    const step = task.next();
    if (step.done) return step.value;
  }
}

/** A server that ends so often in this time is not started again by itself. */
export const RESTARTS_CAP = 4;
export const WINDOW_MS = 180_000;

/** What is done about a server that ended: started again, with a word about it the first time, or not before a person says so. */
export type AfterEnd = "restart and tell" | "restart" | "ask";

/** Counts the ends of one server. @param now A clock [ms]. */
export function countEnds(now: () => number): () => AfterEnd {
  let ends: number[] = [];
  let told = false;
  return () => {
    const time = now();
    ends = [...ends.filter((end) => time - end < WINDOW_MS), time];
    if (ends.length > RESTARTS_CAP) return "ask";
    const isFirst = !told;
    told = true;
    return isFirst ? "restart and tell" : "restart";
  };
}

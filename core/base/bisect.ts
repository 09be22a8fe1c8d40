/** First index from `low` up to, without, `high` at which `holds`, which goes on holding from there; `high` when there is none. */
export function firstWhere(low: number, high: number, holds: (idx: number) => boolean): number {
  let [from, to] = [low, high];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (holds(middle)) to = middle;
    else from = middle + 1;
  }
  return from;
}

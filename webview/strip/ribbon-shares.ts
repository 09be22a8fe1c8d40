/** Shares above this look alike. */
const HIGHEST = 2;

/**
 * Highest share of any limit in each column of px over 0..`duration` [s]. Where there are fewer samples than px, a column
 * without one holds the last; an instant without a share counts as 0.
 *
 * @param t     Times of the samples [s], ascending, shape (n,).
 * @param share Shape (n,).
 */
export function ribbonShares(
  t: ArrayLike<number>,
  share: ArrayLike<number>,
  duration: number,
  columns: number,
): Float64Array {
  const most = new Float64Array(columns).fill(-1);
  for (let i = 0; i < t.length; i++) {
    const x = Math.min(columns - 1, Math.floor((t[i] / (duration || 1)) * columns));
    most[x] = Math.max(most[x], Number.isNaN(share[i]) ? 0 : Math.min(share[i], HIGHEST));
  }
  let last = 0;
  for (let x = 0; x < columns; x++) {
    if (most[x] < 0) most[x] = last;
    else last = most[x];
  }
  return most;
}

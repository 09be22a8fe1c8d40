/** Times nearer than this [s] are one: no clock of a rig tells them apart. */
export const SAME_TIME = 1e-9;

/** Ascending times without those that are one with the time before. */
export function distinctTimes(sorted: ArrayLike<number>): number[] {
  const kept: number[] = [];
  for (let i = 0; i < sorted.length; i++) {
    if (i === 0 || SAME_TIME < sorted[i] - kept[kept.length - 1]) kept.push(sorted[i]);
  }
  return kept;
}

/** What `work` comes to within `timeMs`, else `undefined`: the work itself goes on. Rejects where the work does in that time. */
export function inTime<T>(work: Promise<T>, timeMs: number): Promise<T | undefined> {
  const patience = new Promise<undefined>((resolve) => setTimeout(() => resolve(undefined), timeMs));
  return Promise.race([work, patience]);
}

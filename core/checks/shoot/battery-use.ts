import { POWER_SLACK } from "../thresholds.ts";
import type { Stretch } from "./shot-energy.ts";

/** What a battery gave since it was changed. */
export interface Spent {
  /** [J] */
  readonly energy: number;
  /** [s] */
  readonly time: number;
  /** The last shot that it served. */
  readonly after?: string;
}

export const FRESH: Spent = { energy: 0, time: 0 };

/** What is spent after a further stretch. */
export const together = ({ energy, time }: Spent, next: Stretch): Spent => ({
  energy: energy + next.energy,
  time: time + next.time,
});

export const lasts = ({ energy }: Spent, usable: number): boolean => energy <= usable * (1 + POWER_SLACK);

/** The stretch in which a battery comes to its end. */
export function emptyAt(stretches: readonly Stretch[], before: Spent, usable: number): number {
  let spent = before;
  for (let n = 0; n < stretches.length; n++) {
    spent = together(spent, stretches[n]);
    if (!lasts(spent, usable)) return n;
  }
  return stretches.length - 1;
}

/** A shot that no single battery lasts for, begun with a fresh one that is changed before each stretch that it does not last for. */
export function changedWithin(
  stretches: readonly Stretch[],
  usable: number,
): { readonly spent: Spent; readonly changes: readonly string[] } {
  const changes: string[] = [];
  let spent = FRESH;
  stretches.forEach((stretch, n) => {
    if (!lasts(together(spent, stretch), usable) && 0 < n) {
      changes.push(stretches[n - 1].label);
      spent = FRESH;
    }
    spent = together(spent, stretch);
  });
  return { spent, changes };
}

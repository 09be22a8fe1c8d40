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

/** Most changes that are told one by one. */
const MOST_CHANGES = 6;

/** What is spent after a further stretch. */
export const together = (spent: Spent, next: Stretch): Spent => after(spent, next, next.count);

const after = (spent: Spent, { energy, time }: Stretch, count: number): Spent => ({
  energy: spent.energy + count * energy,
  time: spent.time + count * time,
});

export const lasts = ({ energy }: Pick<Spent, "energy">, usable: number): boolean =>
  energy <= usable * (1 + POWER_SLACK);

/** How many of the parts of a stretch a battery still lasts for, 0 or more, all of them at most. */
function partsLeft({ energy }: Spent, { energy: each, count }: Stretch, usable: number): number {
  const left = usable * (1 + POWER_SLACK) - energy;
  return each * count <= left ? count : Math.max(0, Math.floor(left / each));
}

/** In which part of which stretch a battery comes to its end; the last one where it does not. */
export function emptyIn(stretches: readonly Stretch[], before: Spent, usable: number): string {
  let spent = before;
  let last = "";
  for (const stretch of stretches) {
    const fits = partsLeft(spent, stretch, usable);
    if (fits < stretch.count) return stretch.label(fits);
    spent = together(spent, stretch);
    last = stretch.label(stretch.count - 1);
  }
  return last;
}

/**
 * A shot that no single battery lasts for, begun with a fresh one that is changed before each part that it does not last
 * for: after which parts that is, and what the last one has given.
 */
export function changedWithin(
  stretches: readonly Stretch[],
  usable: number,
): { readonly spent: Spent; readonly changes: string } {
  const told: string[] = [];
  let count = 0;
  let spent = FRESH;
  let before = "";
  for (const stretch of stretches) {
    for (let done = 0; done < stretch.count;) {
      const fits = Math.min(partsLeft(spent, stretch, usable), stretch.count - done);
      if (fits === 0 && before !== "") {
        count += 1;
        if (told.length < MOST_CHANGES) told.push(before);
        spent = FRESH;
      }
      // What no battery lasts for is begun all the same.
      const taken = Math.max(1, Math.min(partsLeft(spent, stretch, usable), stretch.count - done));
      spent = after(spent, stretch, taken);
      done += taken;
      before = stretch.label(done - 1);
    }
  }
  const more = count - told.length;
  return { spent, changes: told.join("; ") + (0 < more ? ` and ${more} times more` : "") };
}

import type { ResolvedMove } from "../../motion/resolved-move.ts";

/** What becomes of the aim of a key when the move runs backwards. */
export type AimChange =
  /** It aims at a target by name; a framing that it gives stays. */
  | { readonly key: number; readonly kind: "target"; readonly name: string }
  | { readonly key: number; readonly kind: "none" };

/**
 * An aim holds from its key on, so backwards it has to be stated where it ended: at the last key, or where it was ended by
 * `none`; and it ends where it began. Keys by their old positions.
 */
export function reversedAims({ keys, targets }: ResolvedMove): readonly AimChange[] | { readonly refusal: string } {
  const stated = keys.flatMap(({ aim }, key) =>
    aim ? [{ key, target: aim.kind === "target" ? aim.target : -1 }] : [],
  );
  const changes: AimChange[] = [];
  const last = keys.length - 1;
  for (const [i, { key, target }] of stated.entries()) {
    const [before, next] = [stated[i - 1]?.target ?? -1, stated[i + 1]];
    if (target < 0) {
      if (0 <= before) changes.push({ key, kind: "target", name: targets[before].name });
      continue;
    }
    const begins = 0 < key && before < 0;
    if (begins && next && 0 <= next.target && next.target !== target) {
      return {
        refusal: `the aim begins at ${keys[key].label} and goes over to another target from there: backwards it would have to arrive and end at once`,
      };
    }
    if (begins && key === last) {
      return { refusal: `the aim begins at ${keys[key].label}, the last key: backwards it would end where it begins` };
    }
    if (begins) changes.push({ key, kind: "none" });
    if (!next && key < last) changes.push({ key: last, kind: "target", name: targets[target].name });
  }
  return changes;
}

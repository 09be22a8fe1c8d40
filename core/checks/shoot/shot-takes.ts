import type { ResolvedShot } from "../../model/resolved-shoot.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";

/** Equal takes one after the other: a pass that is taken once or more. */
export interface Takes {
  readonly count: number;
  /** The nth of them as messages call it, n >= 0. */
  label(n: number): string;
}

/** The takes of a shot in order. A move that names no passes is taken once. */
export function takesOf({ passes }: Pick<ResolvedShot, "passes">, move: Pick<ResolvedMove, "passes">): Takes[] {
  if (move.passes.length === 0) return [{ count: 1, label: () => "the take" }];
  const taken = passes?.flatMap((name) => move.passes.find((pass) => pass.name === name) ?? []) ?? move.passes;
  return taken.map(({ name, times }) => ({
    count: times,
    label: (n) => (times === 1 ? `pass ${name}` : `pass ${name} (${n + 1} of ${times})`),
  }));
}

import type { ResolvedShot } from "../../model/resolved-shoot.ts";
import type { ResolvedMove } from "../../motion/resolved-move.ts";

/** The takes of a shot in order, as messages call them: a pass that is taken more often than once with its number. */
export function takesOf({ passes }: Pick<ResolvedShot, "passes">, move: Pick<ResolvedMove, "passes">): string[] {
  if (move.passes.length === 0) return ["the take"];
  const taken = passes?.flatMap((name) => move.passes.find((pass) => pass.name === name) ?? []) ?? move.passes;
  return taken.flatMap(({ name, times }) =>
    Array.from({ length: times }, (_, n) => (times === 1 ? `pass ${name}` : `pass ${name} (${n + 1} of ${times})`)),
  );
}

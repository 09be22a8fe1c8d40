import { bindName } from "./bind-name.ts";
import type { Stated } from "./declared.ts";
import type { Document } from "./load-document.ts";
import type { Reporter } from "./report.ts";

/** Opens a move that a shoot names; without one there is a finding at the reference. */
export type OpenMove = (reference: Stated<string>) => Document<"move"> | undefined;

/** A name of a pass or a key that a move has; after a finding the nearest one, if there is one. */
export function bindMoveName(
  to: Reporter,
  stated: Stated<string>,
  known: readonly string[],
  what: "pass" | "key",
): string | undefined {
  return bindName(to, stated, {
    code: "wrong-type",
    lacks: `The move has no ${what}`,
    known,
    none: "There are none with a name.",
  });
}

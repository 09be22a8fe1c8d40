import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { bindTarget } from "./move-parts.ts";
import { report } from "./report.ts";

interface ArcFields {
  readonly via?: Stated<unknown>;
  readonly about?: Stated<string>;
}

/** An arc goes through a point, or about a target. */
export function checkPath(context: MoveContext, { value: { path } }: KeyFields, label: string): void {
  if (!path || typeof path.value === "string") return;
  const arc = (path.value as { readonly arc?: Stated<ArcFields> }).arc;
  if (!arc) return;
  const { via, about } = arc.value;
  if (about) bindTarget(context.scope, about, context.set);
  const stated = ["via", "about"].filter((name) => name in arc.value);
  if (stated.length === 1 || (stated.length === 0 && (via || about))) return;
  const code = stated.length === 0 ? "missing-field" : "over-determined";
  report(context.scope, code, arc.span, "`arc` goes `via` a point, or `about` a target: give one of the two.", {
    key: label,
  });
}

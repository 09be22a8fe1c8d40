import { bindAxis } from "./bind-axis.ts";
import type { Stated } from "./declared.ts";
import type { Scope } from "./resolution.ts";

/** The link that a name means, -1 for the base; a finding and `undefined` when there is none. */
export function bindLink(
  scope: Scope,
  stated: Stated<string> | undefined,
  joints: readonly { readonly name: string }[],
): number | undefined {
  if (!stated) return undefined;
  return stated.value === "base" ? -1 : bindAxis(scope, stated, joints);
}

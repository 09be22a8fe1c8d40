import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import type { Span } from "../base/span.ts";
import type { Stated } from "./declared.ts";
import { replacement, report, type Reporter } from "./report.ts";

/** The index of the link that a name means; a finding and `undefined` when there is none. */
export function bindAxis(
  scope: Reporter,
  stated: Stated<string>,
  joints: readonly { readonly name: string }[],
): number | undefined {
  const index = joints.findIndex((joint) => joint.name === stated.value);
  if (0 <= index) return index;
  const names = joints.map((joint) => joint.name);
  reportUnknownAxis(scope, stated.value, stated.span, names);
  return undefined;
}

export function reportUnknownAxis(scope: Reporter, name: string, span: Span, names: readonly string[]): void {
  const nearest = nearestName(name, names);
  const cure = nearest
    ? `Did you mean \`${nearest}\`?`
    : names.length > 0
      ? `There are ${listing(names)}.`
      : "There are none.";
  const cures = nearest ? { cures: [replacement(scope, span, nearest)] } : {};
  report(scope, "unknown-axis", span, `There is no axis \`${name}\`. ${cure}`, { axis: name, ...cures });
}

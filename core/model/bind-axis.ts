import { axisNames, bindName } from "./bind-name.ts";
import type { Stated } from "./declared.ts";
import type { Reporter } from "./report.ts";

/** The index of the link or axis that a name means; a finding and `undefined` when there is none near. */
export function bindAxis(
  to: Reporter,
  stated: Stated<string>,
  axes: readonly { readonly name: string }[],
): number | undefined {
  const names = axes.map((axis) => axis.name);
  const name = bindName(to, stated, axisNames(names));
  return name === undefined ? undefined : names.indexOf(name);
}

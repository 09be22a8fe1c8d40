import type { AimState } from "./key-aim.ts";
import type { MoveAxis, ResolvedKey } from "../motion/resolved-move.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import { axisNames, bindName } from "./bind-name.ts";
import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";

/** Keyed axes of a key, without those that something else gives at that instant. */
export function resolveAxes(context: MoveContext, key: KeyFields, state: AimState, label: string): ResolvedKey["axes"] {
  const { scope, axes } = context;
  const { value } = key;
  const out: ResolvedKey["axes"][number][] = [];
  for (const [name, { nameSpan, item }] of value.axes?.value ?? []) {
    const index = axisIndex(context, { value: name, span: nameSpan });
    if (index === undefined || out.some((each) => each.axis === index)) continue;
    const reason = takenBy(context, key, index, state);
    if (reason !== undefined) {
      report(scope, "over-determined", nameSpan, `\`${name}\` has no value of its own here: ${reason}`, {
        axis: name,
        key: label,
      });
      continue;
    }
    const given = item && resolveQuantity(scope, item, axisDimension(axes[index].type, 0), name);
    if (item && given !== undefined) out.push({ axis: index, value: given, origin: originOf(scope, item.span) });
  }
  return out;
}

/** The axis that a name means. A wrong name is most likely one of those that keys can move. */
export function axisIndex({ scope, axes, rig, set }: MoveContext, stated: Stated<string>): number | undefined {
  const index = axes.findIndex((axis) => axis.name === stated.value);
  if (0 <= index) return index;
  // While the rig or the set is not known, neither is what axes and turntables there are.
  if (!rig || !set) return undefined;
  const moved = axes.filter((axis) => axis.role === "driven" || axis.role === "turntable").map((axis) => axis.name);
  const name = bindName(scope, stated, axisNames(moved));
  return name === undefined ? undefined : axes.findIndex((axis) => axis.name === name);
}

/** Why no key may give an axis of this role, as the end of a sentence. */
export function notKeyed({ role }: MoveAxis): string | undefined {
  if (role === "follows") return "it follows another axis. Key its leader.";
  if (role === "setup") return "it is set before the take. Give it in `setup`.";
  return undefined;
}

/** What else gives the axis its value at this key, as the end of a sentence. */
function takenBy(
  { axes, aiming, rig }: MoveContext,
  { value }: KeyFields,
  index: number,
  state: AimState,
): string | undefined {
  const axis = axes[index];
  const bound = notKeyed(axis);
  if (bound !== undefined) return bound;
  if (axis.role === "driven" && value.camera) return "`camera` solves all driven axes. Delete one of the two.";
  if (aiming.has(index) && (state.before || state.after)) {
    return "the aim solves it. Delete it, or end the aim at an earlier key with `aim: none`.";
  }
  if (value.roll && rig?.head?.roll !== undefined && rig.head.roll === axis.joint)
    return "`roll` gives it too. Delete one of the two.";
  return undefined;
}

import { formatQuantity } from "../base/units.ts";
import type { ResolvedFocus, ResolvedKey, ResolvedRoll } from "../motion/resolved-move.ts";
import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { bindTarget } from "./move-parts.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";

export function resolveFocus({ scope, set }: MoveContext, { value: { focus } }: KeyFields): ResolvedFocus | undefined {
  if (!focus) return undefined;
  if (typeof focus.value === "number") {
    return { kind: "distance", distance: focus.value, origin: originOf(scope, focus.span) };
  }
  const target = bindTarget(scope, focus as Stated<string>, set);
  return target === undefined ? undefined : { kind: "target", target, origin: originOf(scope, focus.span) };
}

export function resolveRoll(
  context: MoveContext,
  { value: { roll } }: KeyFields,
  label: string,
): ResolvedRoll | undefined {
  const { scope, rig } = context;
  if (!roll) return undefined;
  if (rig?.head && rig.head.roll === undefined) {
    const message = "This rig's head has no roll axis, so the roll is free: delete `roll`.";
    report(scope, "over-determined", roll.span, message, { key: label });
    return undefined;
  }
  const origin = originOf(scope, roll.span);
  return typeof roll.value === "number" ? { kind: "angle", angle: roll.value, origin } : { kind: "level", origin };
}

export function resolveIris(
  { scope, optics }: MoveContext,
  { value: { iris } }: KeyFields,
  label: string,
): ResolvedKey["iris"] {
  if (!iris) return undefined;
  if (optics && iris.value < optics.iris - 1e-9) {
    const message = `\`iris\` ${iris.value} is wider than \`${optics.lensName}\` opens: ${optics.iris} at most.`;
    report(scope, "bad-number", iris.span, message, { key: label });
    return undefined;
  }
  return { value: iris.value, origin: originOf(scope, iris.span) };
}

export function resolveZoom(
  { scope, optics }: MoveContext,
  { value: { zoom } }: KeyFields,
  label: string,
): ResolvedKey["zoom"] {
  if (!zoom) return undefined;
  const { low, high } = optics?.focal ?? { low: 0, high: Infinity };
  const slack = 1e-9;
  if (zoom.value < low - slack || zoom.value > high + slack) {
    const bounds =
      low === high
        ? `has ${formatQuantity(low, "length")} only`
        : `zooms from ${formatQuantity(low, "length")} to ${formatQuantity(high, "length")}`;
    const message = `\`zoom\` cannot be ${formatQuantity(zoom.value, "length")}: \`${optics?.lensName}\` ${bounds}.`;
    report(scope, "bad-number", zoom.span, message, { key: label });
    return undefined;
  }
  return { focal: zoom.value, origin: originOf(scope, zoom.span) };
}

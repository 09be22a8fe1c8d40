import { listing } from "../base/listing.ts";
import { formatQuantity } from "../base/units.ts";
import type { Vec2 } from "../base/vec3.ts";
import type {
  ResolvedAim,
  ResolvedCameraPoint,
  ResolvedFocus,
  ResolvedKey,
  ResolvedRoll,
} from "../motion/resolved-move.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import { axisNames, bindName } from "./bind-name.ts";
import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { bindTarget } from "./move-parts.ts";
import { bindTurntable } from "./resolve-set.ts";
import { headOf } from "./read.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";
import { vec2, vec3 } from "./vectors.ts";

type Numbers = Stated<readonly Stated<number>[]>;
type AimFields = NonNullable<Extract<NonNullable<KeyFields["value"]["aim"]>, Stated<{ readonly framing: unknown }>>>;

/** Aim and framing of one key. */
export interface KeyAim {
  readonly aim?: ResolvedAim;
  readonly framing?: Vec2;
  readonly framingOrigin: number;
}

export function resolveAim(context: MoveContext, { value: { aim } }: KeyFields): KeyAim {
  const { scope, set } = context;
  if (!aim) return { framingOrigin: 0 };
  if (typeof aim.value === "string") {
    const stated = aim as Stated<string>;
    if (stated.value === "none")
      return { aim: { kind: "none", origin: originOf(scope, stated.span) }, framingOrigin: 0 };
    const target = bindTarget(scope, stated, set);
    if (target === undefined) return { framingOrigin: 0 };
    return { aim: { kind: "target", target, origin: originOf(scope, stated.span) }, framingOrigin: 0 };
  }
  const { at, framing } = (aim as AimFields).value;
  const target = at && bindTarget(scope, at, set);
  const share = framing && framingOf(context, framing);
  return {
    ...(at && target !== undefined ? { aim: { kind: "target", target, origin: originOf(scope, at.span) } } : {}),
    ...(share ? { framing: share } : {}),
    framingOrigin: framing && share ? originOf(scope, framing.span) : 0,
  };
}

/** Framing of the captured picture; of the delivered crop converted to it. */
function framingOf(
  { deliver, optics }: MoveContext,
  stated: NonNullable<AimFields["value"]["framing"]>,
): Vec2 | undefined {
  if (Array.isArray(stated.value)) return vec2(stated as Numbers);
  const { delivered } = stated.value as { readonly delivered?: Numbers };
  if (!delivered || !deliver || !optics) return undefined;
  const [across, down] = vec2(delivered);
  return [
    0.5 + ((across - 0.5) * deliver[0]) / optics.resolution[0],
    0.5 + ((down - 0.5) * deliver[1]) / optics.resolution[1],
  ];
}

/** Whether an aim holds just before and just after a key. */
export interface AimState {
  readonly before: boolean;
  readonly after: boolean;
}

/** Keyed axes of a key, without those that something else gives at that instant. */
export function resolveAxes(context: MoveContext, key: KeyFields, state: AimState, label: string): ResolvedKey["axes"] {
  const { scope, axes } = context;
  const { value } = key;
  const out: ResolvedKey["axes"][number][] = [];
  for (const [name, { nameSpan, item }] of value.axes?.value ?? []) {
    const index = indexOf(context, { value: name, span: nameSpan });
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
function indexOf({ scope, axes, rig }: MoveContext, stated: Stated<string>): number | undefined {
  const index = axes.findIndex((axis) => axis.name === stated.value);
  if (0 <= index) return index;
  if (!rig) return undefined;
  const moved = axes.filter((axis) => axis.role === "driven" || axis.role === "turntable").map((axis) => axis.name);
  const name = bindName(scope, stated, axisNames(moved));
  return name === undefined ? undefined : axes.findIndex((axis) => axis.name === name);
}

/** What else gives the axis its value at this key, as the end of a sentence. */
function takenBy(
  { axes, aiming, rig }: MoveContext,
  { value }: KeyFields,
  index: number,
  state: AimState,
): string | undefined {
  const axis = axes[index];
  if (axis.role === "follows") return "it follows another axis. Key its leader.";
  if (axis.role === "setup") return "it is set before the take. Give it in `setup`.";
  if (axis.role === "driven" && value.camera) return "`camera` solves all driven axes. Delete one of the two.";
  if (aiming.has(index) && (state.before || state.after)) {
    return "the aim solves it. Delete it, or end the aim at an earlier key with `aim: none`.";
  }
  if (value.roll && rig?.head?.roll !== undefined && rig.head.roll === axis.joint)
    return "`roll` gives it too. Delete one of the two.";
  return undefined;
}

export function resolveCamera(
  context: MoveContext,
  key: KeyFields,
  state: AimState,
  label: string,
): ResolvedCameraPoint | undefined {
  const { scope, set } = context;
  const { camera } = key.value;
  if (!camera) return undefined;
  const { at, from, offset } = camera.value;
  const table = camera.value.in;
  const place = headOf(camera);
  if (!state.before && !state.after && !("aim" in key.value)) {
    const message =
      "A key with `camera` needs an aim, or the axes that turn the camera are not determined: give `aim`.";
    report(scope, "missing-field", place, message, { key: label });
    return undefined;
  }
  if (at && (from || offset)) {
    report(scope, "over-determined", at.span, "`camera` has `at`, or `from` with `offset`, not both.", { key: label });
    return undefined;
  }
  if (at) return { kind: "at", at: vec3(at), origin: originOf(scope, camera.span) };
  if (!("from" in camera.value) || !("offset" in camera.value)) {
    if ("at" in camera.value) return undefined;
    report(scope, "missing-field", place, "`camera` needs `at`, or `from` together with `offset`.", { key: label });
    return undefined;
  }
  const target = from && bindTarget(scope, from, set);
  const turning = table && set && bindTurntable(scope, table, set.turntables, set.names.turntables);
  if (target === undefined || !offset || (table && turning === undefined)) return undefined;
  const origin = originOf(scope, camera.span);
  const common = { kind: "offset", from: target, offset: vec3(offset), origin } as const;
  return turning === undefined ? common : { ...common, in: turning };
}

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

/** What is read but not yet computed: one warning each, at its place. */
export function reportUncomputed({ scope }: MoveContext, { value }: KeyFields, label: string): void {
  const warn = (stated: Stated<unknown> | undefined, what: string): void => {
    if (!stated) return;
    report(scope, "not-computed", stated.span, `${what} is read, but not computed yet: the move goes on without it.`, {
      severity: "warning",
      key: label,
    });
  };
  if (value.path && value.path.value !== "axes") warn(value.path, `\`path\` other than ${listing(["axes"])}`);
  warn(value.blend, "`blend`");
  warn(value.switch, "`switch`");
  warn(value.speed, "`speed` of a key");
}

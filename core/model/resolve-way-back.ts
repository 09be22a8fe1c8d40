import type { ResolvedKey, ResolvedWayBack } from "../motion/resolved-move.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import type { Stated, StatedFields } from "./declared.ts";
import { axisIndex, notKeyed } from "./key-axes.ts";
import { lengthOf } from "./key-shape.ts";
import type { MoveContext, MoveFields } from "./move-context.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";
import { RETURN_SHARE } from "../motion/way-back.ts";

type WayField = NonNullable<MoveFields["return"]>;
type WayFields = Extract<WayField, StatedFields<{ readonly via: unknown }>>;
type ViaFields = NonNullable<NonNullable<WayFields["value"]["via"]>["value"][number]>;

/** How the rig comes back between takes; empty where the text does not say it, and after a finding. */
export function resolveWayBack(context: MoveContext, fields: MoveFields): { readonly wayBack?: ResolvedWayBack } {
  const wayBack = wayBackOf(context, fields);
  return wayBack ? { wayBack } : {};
}

function wayBackOf(context: MoveContext, { return: stated }: MoveFields): ResolvedWayBack | undefined {
  if (!stated) return undefined;
  const { scope } = context;
  const origin = originOf(scope, stated.span);
  if (typeof stated.value === "string") {
    return stated.value === "none" ? { kind: "none", origin } : { kind: "reversed", share: RETURN_SHARE, origin };
  }
  const { value, names } = stated as WayFields;
  const refuse = (code: "missing-field" | "over-determined", message: string): undefined =>
    void report(scope, code, stated.span, message);
  if (names.has("speed") && (names.has("time") || names.has("via"))) {
    const message = "`return` has `speed`, for the way reversed, and `time` or `via`, for another way: delete one.";
    return refuse("over-determined", message);
  }
  if (names.has("speed")) return value.speed && { kind: "reversed", share: value.speed.value, origin };
  if (!names.has("time")) {
    const what = names.has("via") ? "`return` has `via`, but no `time`" : "`return` is empty";
    const cure = names.has("via") ? "say how long all of the way takes" : "give `speed` or `time`, or delete it";
    return refuse("missing-field", `${what}: ${cure}.`);
  }
  const time = lengthOf(context, "time", value.time, undefined);
  if (!time) return undefined;
  return {
    kind: "direct",
    time: time.value,
    timeOrigin: originOf(scope, time.span),
    via: viaOf(context, value),
    origin,
  };
}

function viaOf(context: MoveContext, { via }: WayFields["value"]): Extract<ResolvedWayBack, { kind: "direct" }>["via"] {
  const out: Extract<ResolvedWayBack, { kind: "direct" }>["via"][number][] = [];
  for (const item of via?.value ?? []) {
    const at = item?.value.at;
    if (!item || !at) continue;
    const last = out[out.length - 1]?.at ?? 0;
    if (last < at.value && at.value < 1) {
      out.push({ at: at.value, axes: axesOf(context, item), origin: originOf(context.scope, at.span) });
      continue;
    }
    const message =
      at.value < 1
        ? "`via` is in order of time: this one is not later than the one before it."
        : "`via` is on the way: its share of the time is less than 100 %, where the first key is.";
    report(context.scope, at.value < 1 ? "key-order" : "bad-number", at.span, message);
  }
  return out;
}

function axesOf(context: MoveContext, { value }: ViaFields): ResolvedKey["axes"] {
  const { scope, axes } = context;
  const out: ResolvedKey["axes"][number][] = [];
  for (const [name, { nameSpan, item }] of value.axes?.value ?? []) {
    const stated: Stated<string> = { value: name, span: nameSpan };
    const axis = axisIndex(context, stated);
    if (axis === undefined || out.some((each) => each.axis === axis)) continue;
    const why = notKeyed(axes[axis]);
    if (why !== undefined) {
      report(scope, "over-determined", nameSpan, `\`${name}\` has no value of its own here: ${why}`, { axis: name });
      continue;
    }
    const given = item && resolveQuantity(scope, item, axisDimension(axes[axis].type, 0), name);
    if (item && given !== undefined) out.push({ axis, value: given, origin: originOf(scope, item.span) });
  }
  return out;
}

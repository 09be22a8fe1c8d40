import type { Vec2 } from "../base/vec3.ts";
import type { ResolvedAim, ResolvedCameraPoint } from "../motion/resolved-move.ts";
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
  const origin = originOf(scope, camera.span);
  if (at) return { kind: "at", at: vec3(at), origin, placeOrigin: originOf(scope, at.span) };
  if (!("from" in camera.value) || !("offset" in camera.value)) {
    if ("at" in camera.value) return undefined;
    report(scope, "missing-field", place, "`camera` needs `at`, or `from` together with `offset`.", { key: label });
    return undefined;
  }
  const target = from && bindTarget(scope, from, set);
  const turning = table && set && bindTurntable(scope, table, set.turntables, set.names.turntables);
  if (target === undefined || !offset || (table && turning === undefined)) return undefined;
  const placeOrigin = originOf(scope, offset.span);
  const common = { kind: "offset", from: target, offset: vec3(offset), origin, placeOrigin } as const;
  return turning === undefined ? common : { ...common, in: turning };
}

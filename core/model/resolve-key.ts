import { resolveBlend, resolvePath } from "./check-path.ts";
import { resolveAim, resolveCamera, type AimState, type KeyAim } from "./key-aim.ts";
import { resolveAxes } from "./key-axes.ts";
import { resolveFocus, resolveIris, resolveRoll, resolveZoom } from "./key-parts.ts";
import { resolveEase, resolveSpeed, resolveSwitch } from "./key-shape.ts";
import type { KeyPart } from "./kept-keys.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";

/**
 * What a key gives, with its problems and origins beside it. The part is kept for as long as the key's declaration and the
 * context are the same: nothing else may be looked at here, no other key and no file.
 *
 * @param before Position and label of the key, and whether an aim holds just before it.
 */
export function resolveKey(
  whole: MoveContext,
  key: KeyFields,
  before: Pick<KeyPart, "index" | "label" | "aimed">,
): KeyPart {
  const { index, label, aimed } = before;
  const scope = { ...whole.scope, problems: [], key: { index, spans: [] } };
  const context: MoveContext = { ...whole, scope };
  const aim = resolveAim(context, key);
  const state: AimState = { before: aimed, after: aim.aim ? aim.aim.kind === "target" : aimed };
  const ease = resolveEase(context, key.value.ease, label);
  const change = resolveSwitch(context, key, label);
  const parts = {
    ...partsOf(context, key, aim, state, before),
    ...(ease && { ease: ease.ease }),
    ...(change && { switch: change.change }),
  };
  const lostAim = "aim" in key.value && !aim.aim && !state.before;
  const origin = originOf(scope, key.span);
  const { name, at, after } = key.value;
  // The text of the key's time, if it has a time that can be used.
  const time = "at" in key.value ? at : after;
  return {
    ...before,
    start: key.span.start,
    key: {
      label,
      ...(name ? { name: name.value } : {}),
      ...parts,
      origin,
      timeOrigin: time ? originOf(scope, time.span) : origin,
    },
    ...(ease?.ramp && { easeRamp: ease.ramp }),
    ...(change?.ramp && { switchRamp: change.ramp }),
    aims: state.after,
    undetermined: lostAim || ("camera" in key.value && !parts.camera),
    problems: scope.problems,
    spans: scope.key.spans,
  };
}

type Parts = Omit<KeyPart["key"], "label" | "name" | "origin" | "timeOrigin">;

function partsOf(
  context: MoveContext,
  key: KeyFields,
  aim: KeyAim,
  state: AimState,
  { index, label }: Pick<KeyPart, "index" | "label">,
): Parts {
  const framed = aim.framing && !aim.aim && !state.before;
  if (framed && key.value.aim && !("at" in (key.value.aim.value as object))) {
    const message = "`framing` without `at` holds for the target aimed at before, but nothing is aimed at: give `at`.";
    report(context.scope, "missing-field", key.value.aim.span, message, { key: label });
  }
  const parts = {
    camera: resolveCamera(context, key, state, label),
    aim: aim.aim,
    framing: framed ? undefined : aim.framing,
    focus: resolveFocus(context, key),
    iris: resolveIris(context, key, label),
    zoom: resolveZoom(context, key, label),
    roll: resolveRoll(context, key, label),
    speed: resolveSpeed(context, key),
    path: resolvePath(context, key, index, label),
    blend: resolveBlend(context, key, label),
  };
  const present = Object.fromEntries(Object.entries(parts).filter(([, part]) => part !== undefined));
  return {
    axes: resolveAxes(context, key, state, label),
    framingOrigin: framed ? 0 : aim.framingOrigin,
    ...(present as Partial<typeof parts>),
  };
}

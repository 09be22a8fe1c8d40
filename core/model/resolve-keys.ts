import type { Span } from "../base/span.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import { resolveKeyTimes } from "./key-times.ts";
import { resolveAim, resolveCamera, type AimState, type KeyAim } from "./key-aim.ts";
import { resolveAxes } from "./key-axes.ts";
import { resolveEase, resolveSpeed, resolveSwitch } from "./key-shape.ts";
import { reportUncomputed, resolveFocus, resolveIris, resolveRoll, resolveZoom } from "./key-parts.ts";
import { checkPath } from "./check-path.ts";
import { checkShapes, type DraftKey } from "./check-shapes.ts";
import type { KeyFields, MoveContext, MoveFields } from "./move-context.ts";
import { playedKeys, type WrittenKey } from "./played-keys.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";

export interface ResolvedKeys {
  readonly keys: readonly ResolvedKey[];
  /** Text of each of `keys`, by its position in `keys`. */
  readonly spans: readonly Span[];
  /** True when an aim or a camera point is stated but not known, and nothing else says where the camera looks. */
  readonly undetermined: boolean;
}

/** The keys that have a time, in order. A field that fails is left out of its key, a key without a time out of the move. */
export function resolveKeys(context: MoveContext, fields: MoveFields): ResolvedKeys {
  const { scope, speed } = context;
  const stated = fields.keys?.value ?? [];
  if (fields.keys && stated.length === 0) {
    report(scope, "missing-field", fields.keys.span, "`keys` is empty: a move has one key or more.");
  }
  const labelOf = (index: number): string => stated[index]?.value.name?.value ?? `key ${index + 1}`;
  const times = resolveKeyTimes(context, stated, labelOf);
  const names = new Set<string>();
  const keys: WrittenKey[] = [];
  const drafts: DraftKey[] = [];
  const spans: Span[] = [];
  let aimed = false;
  let undetermined = false;
  stated.forEach((key, index) => {
    const time = times[index];
    if (!key) return;
    reportDouble(context, key, names);
    const label = labelOf(index);
    const aim = resolveAim(context, key);
    const state: AimState = { before: aimed, after: aim.aim ? aim.aim.kind === "target" : aimed };
    const ease = resolveEase(context, key.value.ease, label);
    const change = resolveSwitch(context, key, label);
    const parts = {
      ...partsOf(context, key, aim, state, label),
      ...(ease && { ease: ease.ease }),
      ...(change && { switch: change.change }),
    };
    const lostAim = "aim" in key.value && !aim.aim && !state.before;
    if (lostAim || ("camera" in key.value && !parts.camera)) undetermined = true;
    aimed = state.after;
    if (!time) return;
    const origin = originOf(scope, key.span);
    const { name } = key.value;
    const stop = time.hold > 0 || (key.value.stop?.value ?? false);
    const ramps = { ...(ease?.ramp && { easeRamp: ease.ramp }), ...(change?.ramp && { switchRamp: change.ramp }) };
    drafts.push({ fields: key, label, written: time.time, hold: time.hold, stop, parts, ...ramps });
    keys.push({
      label,
      ...(name ? { name: name.value } : {}),
      written: time.time,
      ...(0 < time.hold && { hold: time.hold }),
      stop,
      ...parts,
      origin,
      timeOrigin: time.span ? originOf(scope, time.span) : origin,
    });
    spans.push({ start: key.span.start, end: key.span.end });
  });
  checkShapes(context, drafts);
  return { keys: playedKeys(keys, speed), spans, undetermined };
}

type KeyParts = Omit<ResolvedKey, "label" | "name" | "time" | "stop" | "origin" | "timeOrigin">;

function partsOf(context: MoveContext, key: KeyFields, aim: KeyAim, state: AimState, label: string): KeyParts {
  reportUncomputed(context, key, label);
  checkPath(context, key, label);
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
  };
  const present = Object.fromEntries(Object.entries(parts).filter(([, part]) => part !== undefined));
  return {
    axes: resolveAxes(context, key, state, label),
    framingOrigin: framed ? 0 : aim.framingOrigin,
    ...(present as Partial<typeof parts>),
  };
}

function reportDouble({ scope }: MoveContext, { value: { name } }: KeyFields, names: Set<string>): void {
  if (!name) return;
  if (names.has(name.value)) {
    report(scope, "duplicate-name", name.span, `Two keys are called \`${name.value}\`: rename one.`, {
      key: name.value,
    });
  }
  names.add(name.value);
}

import { listing } from "../base/listing.ts";
import { trimmed } from "../base/units.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { report } from "./report.ts";

/** A key with a time, before its times are played. */
export interface DraftKey {
  readonly fields: KeyFields;
  readonly label: string;
  /** Written time and hold [s]; 0 without a hold. */
  readonly written: number;
  readonly hold: number;
  readonly stop: boolean;
  readonly parts: Pick<ResolvedKey, "axes"> & Partial<ResolvedKey>;
  /** Texts of the ramps of its ease and of its switch, written time [s]. */
  readonly easeRamp?: Stated<number>;
  readonly switchRamp?: Stated<number>;
}

/** What one thing that goes over is on; `target` -1 for none or, of focus, a distance, NaN while it is not known. */
interface Held {
  readonly target: number;
  readonly leaves: number;
  /** Seconds held at earlier keys, this one's included. */
  readonly held: number;
}

/** Eases that have nothing to shape or no room for their ramps, and switches that change no target. */
export function checkShapes(context: MoveContext, keys: readonly DraftKey[]): void {
  const leaves = new Map<string, number>();
  let rested = -Infinity;
  let held = 0;
  let aim: Held | undefined;
  let focus: Held | undefined;
  for (const key of keys) {
    const given = channelsOf(context, key);
    const ways = given.flatMap((channel) => {
      const own = leaves.get(channel);
      return own === undefined ? [] : [key.written - Math.max(own, rested)];
    });
    checkEase(context, key, ways);
    const end = key.written + key.hold;
    const stated = { leaves: end, held: held + key.hold };
    const nextAim = aimOf(key);
    const nextFocus = focusOf(key);
    checkSwitch(context, key, [wayOver(key, held, aim, nextAim, false), wayOver(key, held, focus, nextFocus, true)]);
    if (nextAim !== undefined) aim = { ...stated, target: nextAim };
    if (nextFocus !== undefined) focus = { ...stated, target: nextFocus };
    for (const channel of given) leaves.set(channel, end);
    const rests = key.stop || 0 < key.hold;
    if (rests) rested = end;
    held += key.hold;
    if (nextAim !== -1) continue;
    // Out of an aim that ends the axes go on from where it leaves them: at rest, or moving, which no ease begins with.
    for (const axis of context.aiming) {
      if (rests) leaves.set(`axis ${axis}`, end);
      else leaves.delete(`axis ${axis}`);
    }
  }
}

/** Names of the channels that have a value at a key: its own or solved there. */
function channelsOf({ axes, aiming, rig }: MoveContext, { parts }: DraftKey): string[] {
  const roll = rig?.head?.roll === undefined ? -1 : axes.findIndex((axis) => axis.joint === rig.head?.roll);
  const driven = parts.camera
    ? axes.flatMap((axis, index) => (axis.role === "driven" && !aiming.has(index) && index !== roll ? [index] : []))
    : [];
  const moved = new Set([...driven, ...parts.axes.map(({ axis }) => axis)]);
  if (parts.roll?.kind === "angle") moved.add(roll);
  return [
    ...Array.from(moved, (axis) => `axis ${axis}`),
    ...(parts.path ? ["path"] : []),
    ...(parts.framing ? ["framing"] : []),
    ...(parts.focus?.kind === "distance" ? ["focus"] : []),
    ...(parts.iris ? ["iris"] : []),
    ...(parts.zoom ? ["zoom"] : []),
  ];
}

function checkEase(context: MoveContext, key: DraftKey, ways: readonly number[]): void {
  const { parts, fields, label, easeRamp } = key;
  if (!parts.ease) return;
  const place = fields.names.get("ease") ?? fields.span;
  if (ways.length === 0 && !parts.path) {
    const leftMoving = parts.axes.some(({ axis }) => context.aiming.has(axis));
    const solved = parts.aim
      ? " The aim goes over to another target as `switch` says."
      : leftMoving
        ? " Out of an aim that ends while they move, axes are not eased: let it end at a key with `stop` or `hold`."
        : "";
    const message = `\`ease\` has nothing to shape at ${label}: it gives no channel that an earlier key gives too.${solved} Give one of ${listing(["axes", "camera", "zoom", "iris", "roll"])} there and before, or delete it.`;
    report(context.scope, "missing-field", place, message, { key: label });
    return;
  }
  if (easeRamp) checkRamp(context, key, easeRamp, ways);
}

function checkRamp({ scope }: MoveContext, { label }: DraftKey, ramp: Stated<number>, ways: readonly number[]): void {
  const shortest = Math.min(...ways);
  if (!Number.isFinite(shortest) || 2 * ramp.value <= shortest + 1e-9) return;
  const [asked, way, most] = [ramp.value, shortest, shortest / 2].map((time) => `${trimmed(time, 3)} s`);
  const message = `\`ramp\` is ${asked}, but the way to ${label} takes ${way} and has two of them: ${most} at most.`;
  report(scope, "bad-number", ramp.span, message, { key: label });
}

/** Seconds in which a thing goes over to another target, holds left out; `undefined` where it does not, NaN where unknown. */
function wayOver(
  key: DraftKey,
  held: number,
  before: Held | undefined,
  target: number | undefined,
  distances: boolean,
): number | undefined {
  if (target === undefined) return undefined;
  if (Number.isNaN(target) || Number.isNaN(before?.target)) return NaN;
  const goesOver = before !== undefined && before.target !== target;
  if (!goesOver || (!distances && (target < 0 || before.target < 0))) return undefined;
  return key.written - before.leaves - (held - before.held);
}

function checkSwitch(context: MoveContext, key: DraftKey, over: readonly (number | undefined)[]): void {
  const { parts, fields, label, switchRamp } = key;
  if (!parts.switch) return;
  const ways = over.filter((way) => way !== undefined);
  if (ways.length === 0) {
    const message = `\`switch\` shapes a change of target, but neither aim nor focus goes over to another target at ${label}: give one, or delete it.`;
    report(context.scope, "missing-field", fields.names.get("switch") ?? fields.span, message, { key: label });
    return;
  }
  const { begin, end } = parts.switch;
  const known = ways.filter((way) => !Number.isNaN(way));
  if (switchRamp)
    checkRamp(
      context,
      key,
      switchRamp,
      known.map((way) => way * (end - begin)),
    );
}

function aimOf({ parts, fields }: DraftKey): number | undefined {
  if (parts.aim) return parts.aim.kind === "target" ? parts.aim.target : -1;
  // A framing alone leaves the target; what could not be bound leaves it open.
  return "aim" in fields.value && !parts.framing ? NaN : undefined;
}

function focusOf({ parts, fields }: DraftKey): number | undefined {
  if (parts.focus) return parts.focus.kind === "target" ? parts.focus.target : -1;
  return "focus" in fields.value ? NaN : undefined;
}

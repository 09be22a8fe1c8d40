import { parseTime } from "../base/timecode.ts";
import { trimmed } from "../base/units.ts";
import { MOST_BACKWARD, type Handles } from "../motion/ease-bezier.ts";
import type { ResolvedEase, ResolvedKey } from "../motion/resolved-move.ts";
import type { Stated } from "./declared.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";
import { replacement, report } from "./report.ts";
import { originOf } from "./resolution.ts";

type EaseField = NonNullable<KeyFields["value"]["ease"]>;
type EaseFields = Extract<EaseField, Stated<{ readonly linear: unknown }>>;

/** An ease and the text of its ramp, whose room is checked once all keys are known. Ramps in written time [s]. */
export interface StatedEase {
  readonly ease: ResolvedEase;
  readonly ramp?: Stated<number>;
}

/** How a key, or a switch, is come to; `undefined` without an ease or after a finding. */
export function resolveEase(
  context: MoveContext,
  stated: EaseField | undefined,
  label: string,
): StatedEase | undefined {
  if (!stated) return undefined;
  if (typeof stated.value === "string") return { ease: { kind: "minimum-jerk" } };
  const { linear, cubic, ramp } = (stated as EaseFields).value;
  const { names } = stated as EaseFields;
  const given = ["linear", "cubic"].filter((name) => names.has(name));
  const refuse = (code: "missing-field" | "over-determined", message: string): undefined =>
    void report(context.scope, code, stated.span, message, { key: label });
  if (given.length === 0)
    return refuse("missing-field", "`ease` is `minimum-jerk`, or has `linear` or `cubic`: give one.");
  if (given.length === 2) return refuse("over-determined", "`ease` has `linear` and `cubic`: delete one.");
  if (linear && ramp) {
    return refuse(
      "over-determined",
      "The ramp of `linear` stands within it, `linear: { ramp: .. }`: delete the other.",
    );
  }
  const length = lengthOf(context, "ramp", linear?.value.ramp ?? ramp, label);
  if (linear) return length && { ease: { kind: "linear", ramp: length.value }, ramp: length };
  if (!cubic || (names.has("ramp") && !length)) return undefined;
  const handles = cubic.value.map((part) => part.value) as unknown as Handles;
  if (MOST_BACKWARD < handles[0] - handles[2]) {
    const message =
      "`cubic` stands upright in its middle, where its speed has no bound: let x1 be less than 1, or x2 more than 0.";
    report(context.scope, "bad-number", cubic.span, message, { key: label });
    return undefined;
  }
  return length
    ? { ease: { kind: "cubic", handles, ramp: length.value }, ramp: length }
    : { ease: { kind: "cubic", handles } };
}

/** Lengths of time nearer to 0 than this [s] count as 0: in none of them does anything move, and limits are broken unseen. */
const LEAST_LENGTH = 1e-6;

/** A length of time more than 0, in written time [s]. `label`: of the key that states it. */
export function lengthOf(
  { scope, rate }: MoveContext,
  name: string,
  stated: Stated<number | string> | undefined,
  label: string | undefined,
): Stated<number> | undefined {
  if (!stated) return undefined;
  // A label counts from the first frame, a length of time from nothing: no start is taken off.
  const parsed = parseTime(stated.value, rate, 0);
  if (!parsed.ok) {
    const cures = parsed.cure === undefined ? {} : { cures: [replacement(scope, stated.span, parsed.cure)] };
    report(scope, parsed.code, stated.span, `\`${name}\`: ${parsed.message}.`, { key: label, ...cures });
    return undefined;
  }
  if (LEAST_LENGTH <= parsed.value) return { value: parsed.value, span: stated.span };
  const message = `\`${name}\` cannot be \`${stated.value}\`: it is a length of time, more than 0 s.`;
  report(scope, "bad-number", stated.span, message, { key: label });
  return undefined;
}

/** When a change of target begins and ends, and its shape. Its ramp counts written time [s]. */
export function resolveSwitch(
  context: MoveContext,
  { value: { switch: stated } }: KeyFields,
  label: string,
): { readonly change: NonNullable<ResolvedKey["switch"]>; readonly ramp?: Stated<number> } | undefined {
  if (!stated) return undefined;
  const [begin, end] = [stated.value.begin?.value ?? 0, stated.value.end?.value ?? 1];
  if (!(begin < end)) {
    const [from, to] = [begin, end].map((share) => `${trimmed(100 * share, 1)} %`);
    const message = `\`switch\` begins at ${from} of the way and ends at ${to}: \`begin\` is less than \`end\`.`;
    report(context.scope, "bad-number", stated.span, message, { key: label });
    return undefined;
  }
  const shape = resolveEase(context, stated.value.ease, label);
  const change = { begin, end, ...(shape && { ease: shape.ease }), origin: originOf(context.scope, stated.span) };
  return shape?.ramp ? { change, ramp: shape.ramp } : { change };
}

export function resolveSpeed({ scope }: MoveContext, { value: { speed } }: KeyFields): ResolvedKey["speed"] {
  return speed && { share: speed.value, origin: originOf(scope, speed.span) };
}

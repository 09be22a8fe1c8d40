import { formatQuantity } from "../base/units.ts";
import type { Span } from "../base/span.ts";
import type { RangeLimit, ResolvedJoint } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import { nameFault } from "../schema/field-types.ts";
import type { UrdfJoint } from "../urdf/urdf.ts";
import { axisDimension, type AxisType } from "./axis-quantity.ts";
import type { Declared, Stated, StatedEntry } from "./declared.ts";
import { report } from "./report.ts";
import { originOf } from "./resolution.ts";
import { resolveLimits, resolvePositions, resolveRange, resolveRepeat } from "./resolve-joint.ts";
import { reportAt, type UrdfReporter } from "./urdf-file.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];
type Entry<M> = M extends Stated<ReadonlyMap<string, infer Each>> ? Each : never;

/** What the rig says of one axis beside the file: an entry of `axes`. */
export type UrdfAxis =
  Entry<NonNullable<RigFields["axes"]>> extends StatedEntry<infer Item> ? NonNullable<Item> : never;

/** A joint as a link of ours, its leader not bound yet; `undefined` after a finding. */
export function urdfJoint(
  to: UrdfReporter,
  joint: UrdfJoint,
  entry: StatedEntry<UrdfAxis> | undefined,
): Omit<ResolvedJoint, "follows"> | undefined {
  const { name, origin, axis } = joint;
  if (!mayBeNamed(to, joint)) return undefined;
  const beside = entry?.item;
  // Where the rig speaks of the axis, findings about it belong; else where the file does.
  const self = entry ? originOf(to.scope, entry.nameSpan) : to.scope.resolution.origins.add(to.urdf.file, name.span);
  const bare = { name: name.value, origin, along: axis };
  const origins = { self, range: 0, speed: 0, accel: 0, jerk: 0 };
  if (joint.type === "fixed") {
    if (beside) reportIdle(to, name.value, beside);
    return { ...bare, type: "fixed", role: "none", limits: {}, origins };
  }
  const type = joint.type === "prismatic" ? "linear" : "rotary";
  return { ...bare, type, ...movingParts(to, joint, type, beside), origins: placesOf(to, joint, self, beside) };
}

function movingParts(
  { scope, ...to }: UrdfReporter,
  joint: UrdfJoint,
  type: AxisType,
  beside: UrdfAxis | undefined,
): Pick<ResolvedJoint, "role" | "range" | "positions" | "limits" | "repeat"> {
  const fields = beside?.value ?? NOTHING;
  const own = fields.limits ? resolveLimits(scope, fields.limits.value, type) : {};
  const limits = { ...(joint.speed ? { speed: joint.speed.value } : {}), ...own };
  const range = rangeOf({ scope, ...to }, joint, type, fields.range);
  const positions = resolvePositions(scope, joint.name.value, fields, type);
  const repeat = resolveRepeat(scope, fields, type);
  const isSetup = fields.drive?.value === "setup";
  if (joint.mimic && isSetup && fields.drive) {
    const message = `\`${joint.name.value}\` mimics another joint in \`${to.reference.value}\`, so it cannot be set by hand too: delete \`drive\`.`;
    report(scope, "over-determined", fields.drive.span, message, { axis: joint.name.value });
  }
  return {
    role: joint.mimic ? "follows" : isSetup ? "setup" : "driven",
    ...(range ? { range } : {}),
    ...(positions ? { positions } : {}),
    limits,
    ...(repeat ? { repeat } : {}),
  };
}

const NOTHING: UrdfAxis["value"] = {
  range: undefined,
  limits: undefined,
  repeat: undefined,
  drive: undefined,
  positions: undefined,
  note: undefined,
};

/**
 * How far beyond the file's limits a narrower range may seem to go [m or rad]: files write angles with a few digits, and
 * what is written in degrees beside them never meets those exactly. The file's limit then holds.
 */
const ROUNDING = 1e-4;

/** The file's range, or a narrower one; `undefined` where there is none, or after a finding. */
function rangeOf(
  to: UrdfReporter,
  joint: UrdfJoint,
  type: AxisType,
  stated: UrdfAxis["value"]["range"],
): RangeLimit | undefined {
  const { scope, reference } = to;
  const file = joint.range?.value;
  const own = stated && resolveRange(scope, stated, type);
  if (!file) {
    if (joint.type !== "continuous" && !joint.mimic && !stated) {
      const message = `Joint \`${joint.name.value}\` is ${joint.type} and has no \`<limit>\`: give it there, or its \`range\` under \`axes\` in the rig.`;
      reportAt(to, "missing-field", joint.name.span, message);
    }
    return own;
  }
  if (!own || !stated) return file;
  if (own.low < file.low - ROUNDING || own.high > file.high + ROUNDING) {
    const show = ({ low, high }: RangeLimit): string =>
      [low, high].map((end) => formatQuantity(end, axisDimension(type, 0))).join(" to ");
    const message = `\`range\` is ${show(own)}, but \`${reference.value}\` limits \`${joint.name.value}\` to ${show(file)}: here it can only be made narrower.`;
    const place = { file: to.urdf.file, span: joint.range.span };
    const related = [{ place, message: `\`${joint.name.value}\` is limited here.` }];
    report(scope, "bad-number", stated.span, message, { axis: joint.name.value, related });
    return file;
  }
  return { low: Math.max(own.low, file.low), high: Math.min(own.high, file.high) };
}

function placesOf(
  { scope, urdf: { file } }: UrdfReporter,
  joint: UrdfJoint,
  self: number,
  beside: UrdfAxis | undefined,
): ResolvedJoint["origins"] {
  const { range, limits } = beside?.value ?? NOTHING;
  const { speed, accel, jerk } = limits?.value ?? {};
  const there = (span: Span | undefined): number => (span ? scope.resolution.origins.add(file, span) : 0);
  const here = (stated: { readonly span: Span } | undefined): number => (stated ? originOf(scope, stated.span) : 0);
  return {
    self,
    range: here(range) || there(joint.range?.span),
    speed: here(speed) || there(joint.speed?.span),
    accel: here(accel),
    jerk: here(jerk),
  };
}

/** The joint's name becomes that of an axis, which moves and command lines write; so it may not hold their marks. */
function mayBeNamed(to: UrdfReporter, { name }: UrdfJoint): boolean {
  const fault = name.value === "base" ? "`base` is the name of the base" : nameFault(name.value);
  if (fault === undefined) return true;
  const message = `Joint \`${name.value}\` can't be an axis by this name: ${fault}. Rename it in the file.`;
  reportAt(to, "wrong-type", name.span, message);
  return false;
}

function reportIdle({ scope, reference }: UrdfReporter, name: string, { names }: UrdfAxis): void {
  for (const [field, span] of names) {
    if (field === "note") continue;
    const message = `\`${name}\` is fixed in \`${reference.value}\`, so \`${field}\` means nothing there: delete it.`;
    report(scope, "over-determined", span, message, { axis: name });
  }
}

import type { OriginId } from "../base/origin-id.ts";
import { IDENTITY_POSE } from "../base/pose.ts";
import type { Span } from "../base/span.ts";
import { parseRatio } from "../base/units.ts";
import type { AxisLimits, AxisOrigins, RangeLimit, Repeat, ResolvedJoint } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import type { Written } from "../schema/field-types.ts";
import { axisDimension, resolvePositive, resolveQuantity, type AxisType } from "./axis-quantity.ts";
import type { Declared, Stated } from "./declared.ts";
import { originOf, type Scope } from "./resolution.ts";
import { report } from "./report.ts";
import { pose, unit } from "./vectors.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];
export type JointFields = NonNullable<NonNullable<RigFields["chain"]>["value"][number]>;

/** A joint whose leader is still a name. */
export interface UnboundJoint {
  readonly joint: Omit<ResolvedJoint, "follows">;
  readonly fields: JointFields;
}

/** What resolving an axis needs of its fields: those of a chain and those beside a URDF file are alike in it. */
type AxisFields = Pick<JointFields["value"], "positions" | "drive" | "repeat">;
type RepeatFields = Pick<JointFields["value"], "repeat">;

/** One link, or `undefined` when its name or type is broken, which leaves the chain unknown. */
export function resolveJoint(scope: Scope, fields: JointFields): UnboundJoint | undefined {
  const { axis, type, along, origin, drive, follows } = fields.value;
  if (!axis || !type) return undefined;
  const moves = type.value === "fixed" ? undefined : type.value;
  if (!moves) reportIdle(scope, fields);
  const role = !moves ? "none" : follows ? "follows" : drive?.value === "setup" ? "setup" : "driven";
  if (follows && drive?.value === "setup") {
    const message = `\`${axis.value}\` follows another axis, so it cannot be set by hand too: delete \`drive\` or \`follows\`.`;
    report(scope, "over-determined", drive.span, message, { axis: axis.value });
  }
  const range = moves && fields.value.range ? resolveRange(scope, fields.value.range, moves) : undefined;
  const positions = moves ? resolvePositions(scope, axis.value, fields.value, moves) : undefined;
  const limits = moves && fields.value.limits;
  const repeat = moves && resolveRepeat(scope, fields.value, moves);
  return {
    fields,
    joint: {
      name: axis.value,
      type: type.value,
      role,
      origin: origin ? pose(origin.value.at, origin.value.turn) : IDENTITY_POSE,
      along: unit(along),
      ...(range ? { range } : {}),
      ...(positions ? { positions } : {}),
      limits: limits && moves ? resolveLimits(scope, limits.value, moves) : {},
      ...(repeat ? { repeat } : {}),
      origins: axisOrigins(scope, axis.span, fields.value.range?.span, limits?.value),
    },
  };
}

/** Fields that only a moving axis has, on one that does not move. */
function reportIdle(scope: Scope, { value }: JointFields): void {
  const idle = { range: value.range, limits: value.limits, repeat: value.repeat, drive: value.drive };
  for (const [name, stated] of Object.entries({ ...idle, positions: value.positions, follows: value.follows })) {
    if (!stated) continue;
    const message = `\`${value.axis?.value}\` is fixed, so \`${name}\` means nothing there: delete it, or give another \`type\`.`;
    report(scope, "over-determined", stated.span, message, { axis: value.axis?.value });
  }
}

interface LimitFields {
  readonly speed?: Stated<Written>;
  readonly accel?: Stated<Written>;
  readonly jerk?: Stated<Written>;
}

const ORDERS = { speed: 1, accel: 2, jerk: 3 } as const;

export function resolveLimits(scope: Scope, fields: LimitFields, type: AxisType): AxisLimits {
  const limits: { speed?: number; accel?: number; jerk?: number } = {};
  for (const name of ["speed", "accel", "jerk"] as const) {
    const stated = fields[name];
    const value = stated && resolvePositive(scope, stated, axisDimension(type, ORDERS[name]), name, "no-zero");
    if (value !== undefined) limits[name] = value;
  }
  return limits;
}

/** Ids of an axis and its limits; a limit that is not stated has none. */
export function axisOrigins(
  scope: Scope,
  self: Span,
  range: Span | undefined,
  limits: { readonly speed?: Stated<unknown>; readonly accel?: Stated<unknown>; readonly jerk?: Stated<unknown> } = {},
): AxisOrigins {
  const of = (span: Span | undefined): OriginId => (span ? originOf(scope, span) : 0);
  return {
    self: of(self),
    range: of(range),
    speed: of(limits.speed?.span),
    accel: of(limits.accel?.span),
    jerk: of(limits.jerk?.span),
  };
}

export function resolveRange(
  scope: Scope,
  stated: Stated<readonly Stated<Written>[]>,
  type: AxisType,
): RangeLimit | undefined {
  const [low, high] = stated.value.map((end) => resolveQuantity(scope, end, axisDimension(type, 0), "range"));
  if (low === undefined || high === undefined) return undefined;
  return orderedRange(scope, stated.span, low, high);
}

/** The range, or a finding where its ends are swapped or equal. */
export function orderedRange(scope: Scope, span: Span, low: number, high: number): RangeLimit | undefined {
  if (low < high) return { low, high };
  report(scope, "bad-number", span, "`range` is [lowest, highest]: its first value must be less than its second.");
  return undefined;
}

export function resolvePositions(
  scope: Scope,
  axis: string,
  { positions, drive }: AxisFields,
  type: AxisType,
): number[] | undefined {
  if (!positions) return undefined;
  const found = positions.value.flatMap((stated) => {
    const position = stated && resolveQuantity(scope, stated, axisDimension(type, 0), "positions");
    return position === undefined ? [] : [position];
  });
  if (drive?.value !== "setup") {
    const message = "`positions` are for an axis that is set before a take: write `drive: setup` beside it.";
    report(scope, "missing-field", positions.span, message, { axis });
  }
  if (positions.value.length === 0) {
    report(scope, "wrong-type", positions.span, "`positions` is empty: give the values that the axis can be set to.");
  }
  return found.length > 0 ? [...new Set(found)].sort((a, b) => a - b) : undefined;
}

export function resolveRepeat(scope: Scope, { repeat: stated }: RepeatFields, type: AxisType): Repeat | undefined {
  if (!stated) return undefined;
  const { sigma, slip, backlash } = stated.value;
  const of = (stated: Stated<Written> | undefined, label: string): number | undefined =>
    stated && resolvePositive(scope, stated, axisDimension(type, 0), label, "zero");
  const given = { sigma: of(sigma, "sigma"), slip: slip?.value, backlash: of(backlash, "backlash") };
  const known = Object.fromEntries(Object.entries(given).filter(([, each]) => each !== undefined));
  return { ...known, origin: originOf(scope, stated.span) };
}

/** Ratio and offset of a follower in SI; `undefined` after a finding. */
export function resolveFollow(
  scope: Scope,
  fields: NonNullable<JointFields["value"]["follows"]>,
  own: AxisType,
  leader: AxisType,
): { readonly ratio: number; readonly offset: number } | undefined {
  const { ratio, offset } = fields.value;
  const kind = (type: AxisType): "length" | "angle" => (type === "linear" ? "length" : "angle");
  const parsed = parseRatio(ratio?.value ?? 1, kind(own), kind(leader));
  if (!parsed.ok) {
    const message = ratio
      ? `\`ratio\`: ${parsed.message}.`
      : "`ratio` is left out, but the axes are of unlike types: write it with its unit.";
    report(scope, parsed.code, ratio?.span ?? fields.value.axis?.span ?? fields.span, message);
    return undefined;
  }
  const shift = offset ? resolveQuantity(scope, offset, axisDimension(own, 0), "offset") : 0;
  return shift === undefined ? undefined : { ratio: parsed.value, offset: shift };
}

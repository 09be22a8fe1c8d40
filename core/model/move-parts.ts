import { listing } from "../base/listing.ts";
import { parseTimecode } from "../base/timecode.ts";
import { RATES, type Rate } from "../base/rate.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import type { MoveAxis, ResolvedMove, Tolerances } from "../motion/resolved-move.ts";
import type { BasePlace } from "../rig/resolved-rig.ts";
import { nearestName } from "../base/nearest-name.ts";
import { formatQuantity } from "../base/units.ts";
import { axisDimension, resolveQuantity } from "./axis-quantity.ts";
import { reportUnknownAxis } from "./bind-axis.ts";
import type { Stated, StatedEntry } from "./declared.ts";
import type { MoveFields } from "./move-context.ts";
import type { ResolvedSet } from "./resolve-set.ts";
import { replacement, report } from "./report.ts";
import type { Scope } from "./resolution.ts";
import { vec2 } from "./vectors.ts";
import type { Written } from "../schema/field-types.ts";

/** Rate and the frame of the first label. */
export function resolveRate(scope: Scope, fields: MoveFields): { readonly rate: Rate; readonly startFrame: number } {
  const rate = fields.rate?.value ?? RATES["25"];
  if (!fields.start) return { rate, startFrame: 0 };
  const parsed = parseTimecode(String(fields.start.value), rate);
  if (parsed.ok) return { rate, startFrame: parsed.value };
  const cures = parsed.cure === undefined ? {} : { cures: [replacement(scope, fields.start.span, parsed.cure)] };
  report(scope, parsed.code, fields.start.span, `\`start\`: ${parsed.message}.`, cures);
  return { rate, startFrame: 0 };
}

/** Where the base stands; a mark by its name. */
export function resolvePlace(scope: Scope, { place }: MoveFields, set: ResolvedSet | undefined): BasePlace {
  const floor = set?.floor ?? 0;
  const { at, heading, lean } = place?.value ?? {};
  const [x, y] = placeAt(scope, at, set);
  return { x, y, floor, heading: heading?.value ?? 0, lean: vec2(lean) };
}

type Numbers = Stated<readonly Stated<number>[]>;

function placeAt(
  scope: Scope,
  at: Numbers | Stated<string> | undefined,
  set: ResolvedSet | undefined,
): readonly [number, number] {
  if (!at) return [0, 0];
  if (typeof at.value !== "string") return vec2(at as Numbers);
  const name = at.value;
  const mark = set?.marks.find((each) => each.name === name);
  if (mark) return [mark.at[0], mark.at[1]];
  if (!set || set.names.marks.includes(name)) return [0, 0];
  const nearest = nearestName(name, set.names.marks);
  const known = set.names.marks;
  const cure = nearest
    ? `Did you mean \`${nearest}\`?`
    : known.length > 0
      ? `There are ${listing(known)}.`
      : "The set has none.";
  const cures = nearest ? { cures: [replacement(scope, at.span, nearest)] } : {};
  report(scope, "unknown-mark", at.span, `There is no mark \`${name}\`. ${cure}`, cures);
  return [0, 0];
}

export type AxisValues = Stated<ReadonlyMap<string, StatedEntry<Stated<Written> | undefined>>>;

/** Values of the set-up axes by axis index. One that is left out is a finding and takes its nearest allowed value to 0. */
export function resolveSetup(
  scope: Scope,
  fields: MoveFields,
  axes: readonly MoveAxis[],
  known: boolean,
): Record<number, number> {
  const setup: Record<number, number> = {};
  const settable = axes.filter((axis) => axis.role === "setup").map((axis) => axis.name);
  for (const [name, { nameSpan, item }] of fields.setup?.value ?? []) {
    const index = axes.findIndex((axis) => axis.name === name);
    const axis = axes[index];
    if (!axis) {
      if (known) reportUnknownAxis(scope, name, nameSpan, settable);
    } else if (axis.role !== "setup") {
      const which = settable.length > 0 ? ` Set before a take are ${listing(settable)}.` : "";
      const does = axis.role === "follows" ? "follows another axis" : "is driven in the take";
      const message = `\`${name}\` ${does}, so it has no value in \`setup\`: give it in the keys.${which}`;
      report(scope, "over-determined", nameSpan, message, { axis: name });
    } else if (item) {
      const value = resolveQuantity(scope, item, axisDimension(axis.type, 0), name);
      if (value !== undefined) setup[index] = atPosition(scope, axis, item, value);
    }
  }
  const broken = "setup" in fields && !fields.setup;
  axes.forEach((axis, index) => {
    if (axis.role !== "setup" || index in setup) return;
    setup[index] = restValue(axis);
    if (broken || fields.setup?.value.has(axis.name) || axis.positions?.length === 1) return;
    const span = fields.setup?.span ?? fields.rig?.span ?? { start: 0, end: 0 };
    const message = `\`setup\` lacks \`${axis.name}\`, an axis that is set before the take; ${formatQuantity(setup[index], axisDimension(axis.type, 0))} is assumed.`;
    report(scope, "missing-field", fields.setup ? { start: span.start, end: span.start + 1 } : span, message, {
      axis: axis.name,
    });
  });
  return setup;
}

/** How far a set-up value may be off a position that the axis can take: 1e-6 m or rad. */
const AT_POSITION = 1e-6;

function atPosition(scope: Scope, axis: MoveAxis, stated: Stated<Written>, value: number): number {
  const { positions } = axis;
  if (!positions) return value;
  const found = positions.find((position) => Math.abs(position - value) <= AT_POSITION);
  if (found !== undefined) return found;
  const allowed = listing(positions.map((position) => formatQuantity(position, axisDimension(axis.type, 0))));
  report(
    scope,
    "bad-number",
    stated.span,
    `\`${axis.name}\` cannot be \`${stated.value}\`: it can be set to ${allowed}.`,
    {
      axis: axis.name,
    },
  );
  return value;
}

function restValue({ positions, range }: MoveAxis): number {
  if (positions) return positions.reduce((best, each) => (Math.abs(each) < Math.abs(best) ? each : best));
  return range ? Math.min(Math.max(0, range.low), range.high) : 0;
}

/** Wished first values by axis index. */
export function resolveNear(
  scope: Scope,
  fields: MoveFields,
  axes: readonly MoveAxis[],
  known: boolean,
): Record<number, number> {
  const near: Record<number, number> = {};
  for (const [name, { nameSpan, item }] of fields.near?.value ?? []) {
    const index = axes.findIndex((axis) => axis.name === name);
    if (index < 0) {
      if (known) {
        reportUnknownAxis(
          scope,
          name,
          nameSpan,
          axes.map((axis) => axis.name),
        );
      }
      continue;
    }
    const value = item && resolveQuantity(scope, item, axisDimension(axes[index].type, 0), name);
    if (value !== undefined) near[index] = value;
  }
  return near;
}

/** The delivered crop in captured px, the whole picture by default; undefined without a camera. */
export function resolveDeliver(
  scope: Scope,
  { deliver }: MoveFields,
  optics: ResolvedOptics | undefined,
): readonly [number, number] | undefined {
  if (!optics) return undefined;
  if (!deliver) return optics.resolution;
  const crop = "crop" in deliver.value ? deliver.value.crop : (deliver as Numbers);
  if (!crop) return optics.resolution;
  const [across, down] = vec2(crop as Numbers);
  const [width, height] = optics.resolution;
  if (across <= width && down <= height) return [across, down];
  const message = `\`deliver\` is a crop of ${across} x ${down} px, larger than the ${width} x ${height} px that are captured.`;
  report(scope, "bad-number", crop.span, message);
  return optics.resolution;
}

export function resolveTolerance({ tolerance }: MoveFields): Tolerances {
  const { match, aim, clearance } = tolerance?.value ?? {};
  const near = tolerance?.value["near-limit"];
  return {
    match: match?.value ?? 2,
    aim: aim?.value ?? 4,
    clearance: clearance?.value ?? 0.05,
    nearLimit: near?.value ?? 0.9,
  };
}

/** Passes with the shifts of their targets by index. */
export function resolvePasses(
  scope: Scope,
  { passes }: MoveFields,
  set: ResolvedSet | undefined,
): ResolvedMove["passes"] {
  const names = new Set<string>();
  return (passes?.value ?? []).flatMap((stated): ResolvedMove["passes"][number][] => {
    const { name, times, targets } = stated?.value ?? {};
    if (!name) return [];
    if (names.has(name.value)) {
      report(scope, "duplicate-name", name.span, `Two passes are called \`${name.value}\`: rename one.`);
    }
    names.add(name.value);
    const shifts: Record<number, Vec3> = {};
    for (const [target, { nameSpan, item }] of targets?.value ?? []) {
      const index = bindTarget(scope, { value: target, span: nameSpan }, set);
      const shift = item?.value.shift;
      if (index !== undefined && shift)
        shifts[index] = [shift.value[0].value, shift.value[1].value, shift.value[2].value];
    }
    return [{ name: name.value, times: times?.value ?? 1, targets: shifts }];
  });
}

/** The index of a target by name; `undefined` after a finding, or silently where it is broken or not computed. */
export function bindTarget(scope: Scope, stated: Stated<string>, set: ResolvedSet | undefined): number | undefined {
  if (!set) return undefined;
  const index = set.targets.findIndex((target) => target.name === stated.value);
  if (0 <= index) return index;
  if (set.sightedOnly.has(stated.value)) {
    const message = `\`${stated.value}\` is known by its sights only, and locating it from them is not computed yet: give it \`at\` in the set.`;
    report(scope, "not-computed", stated.span, message, { severity: "warning" });
    return undefined;
  }
  const known = set.names.targets;
  if (known.includes(stated.value)) return undefined;
  const nearest = nearestName(stated.value, known);
  const cure = nearest
    ? `Did you mean \`${nearest}\`?`
    : known.length > 0
      ? `There are ${listing(known)}.`
      : "There are none: name a `set:` that has them.";
  const cures = nearest ? { cures: [replacement(scope, stated.span, nearest)] } : {};
  report(scope, "unknown-target", stated.span, `There is no target \`${stated.value}\`. ${cure}`, cures);
  return undefined;
}

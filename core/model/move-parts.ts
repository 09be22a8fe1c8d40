import { NO_ORIGIN, type OriginId } from "../base/origin-id.ts";
import { parseTimecode } from "../base/timecode.ts";
import { RATES, type Rate } from "../base/rate.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { ResolvedOptics } from "../lens/resolved-optics.ts";
import type { ResolvedMove, Tolerances } from "../motion/resolved-move.ts";
import type { BasePlace } from "../rig/resolved-rig.ts";
import { separationDistance } from "../base/separation.ts";
import { bindName } from "./bind-name.ts";
import type { Stated } from "./declared.ts";
import type { MoveFields } from "./move-context.ts";
import type { ResolvedSet } from "./resolve-set.ts";
import { replacement, report, type Reporter } from "./report.ts";
import { originOf, type Scope } from "./resolution.ts";
import { vec2 } from "./vectors.ts";

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
  if (!set) return [0, 0];
  const space = {
    code: "unknown-mark",
    lacks: "There is no mark",
    known: set.names.marks,
    none: "The set has none.",
  } as const;
  const bound = bindName(scope, { value: name, span: at.span }, space);
  const mark = set.marks.find((each) => each.name === bound);
  return mark ? [mark.at[0], mark.at[1]] : [0, 0];
}

/** The delivered crop in captured px, the whole picture by default; undefined without a camera. */
export function resolveDeliver(
  scope: Scope,
  { deliver }: MoveFields,
  optics: ResolvedOptics | undefined,
): readonly [number, number] | undefined {
  if (!optics) return undefined;
  const crop = cropOf(deliver);
  if (!crop) return optics.resolution;
  const [across, down] = vec2(crop);
  const [width, height] = optics.resolution;
  if (across <= width && down <= height) return [across, down];
  const message = `\`deliver\` is a crop of ${across} x ${down} px, larger than the ${width} x ${height} px that are captured.`;
  report(scope, "bad-number", crop.span, message);
  return optics.resolution;
}

function cropOf(deliver: MoveFields["deliver"]): Numbers | undefined {
  if (!deliver) return undefined;
  return Array.isArray(deliver.value) ? (deliver as Numbers) : (deliver.value as { readonly crop?: Numbers }).crop;
}

/** Where the size of the delivered crop is stated: the list alone, without what it is scaled to. */
export function cropOrigin(scope: Scope, { deliver }: MoveFields): OriginId {
  const crop = cropOf(deliver);
  return crop ? originOf(scope, crop.span) : NO_ORIGIN;
}

export function resolveTolerance({ tolerance }: MoveFields): Tolerances {
  const { match, aim, clearance, blur, crossing, people } = tolerance?.value ?? {};
  const near = tolerance?.value["near-limit"];
  const own = tolerance?.value["self-clearance"];
  return {
    match: match?.value ?? 2,
    aim: aim?.value ?? 4,
    clearance: clearance?.value ?? 0.05,
    nearLimit: near?.value ?? 0.9,
    ...(own ? { selfClearance: own.value } : {}),
    ...(blur ? { blur: blur.value } : {}),
    ...(crossing ? { crossing: crossing.value } : {}),
    ...(people ? { people: nearPeople(people) } : {}),
  };
}

/** How near to people is near [m]: as stated, or reckoned from the time that the rig takes to stop. */
function nearPeople({ value }: NonNullable<NonNullable<MoveFields["tolerance"]>["value"]["people"]>): number {
  if (typeof value === "number") return value;
  return separationDistance(value.stop?.value ?? 0);
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
    const timesOrigin = times ? originOf(scope, times.span) : NO_ORIGIN;
    const origin = originOf(scope, name.span);
    return [{ name: name.value, times: times?.value ?? 1, targets: shifts, origin, timesOrigin }];
  });
}

/** The index of a target by name; `undefined` after a finding, or silently where it is broken or not computed. */
export function bindTarget(to: Reporter, stated: Stated<string>, set: ResolvedSet | undefined): number | undefined {
  if (!set) return undefined;
  const none = "There are none: name a `set:` that has them.";
  const space = { code: "unknown-target", lacks: "There is no target", known: set.names.targets, none } as const;
  const name = bindName(to, stated, space);
  if (name !== undefined && set.sightedOnly.has(name)) {
    const message = `\`${name}\` is known by its sights only, and locating it from them is not computed yet: give it \`at\` in the set.`;
    report(to, "not-computed", stated.span, message, { severity: "warning" });
  }
  const index = set.targets.findIndex((target) => target.name === name);
  return index < 0 ? undefined : index;
}

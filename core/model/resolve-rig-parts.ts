import type { Body, PointMass, ResolvedJoint, ResolvedRig } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import type { Declared } from "./declared.ts";
import { report } from "./report.ts";
import { bindLink } from "./bind-link.ts";
import { axisNames, bindName } from "./bind-name.ts";
import { resolveBody } from "./resolve-solid.ts";
import { originOf, type Scope } from "./resolution.ts";
import { resolveSupport } from "./resolve-support.ts";
import { vec3 } from "./vectors.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];
type RigParts = Pick<ResolvedRig, "bodies" | "masses" | "counterweight" | "support" | "payload" | "power">;

/** What a rig carries and stands on. A broken part is left out. */
export function resolveRigParts(scope: Scope, fields: RigFields, joints: readonly ResolvedJoint[]): RigParts {
  const limit = fields.payload?.value.limit;
  const counterweight = counterweightOf(scope, fields, joints);
  const support = resolveSupport(scope, fields, joints);
  const power = powerOf(scope, fields, joints);
  return {
    bodies: bodiesOf(scope, fields, joints),
    masses: massesOf(scope, fields, joints),
    ...(counterweight ? { counterweight } : {}),
    ...(support ? { support } : {}),
    ...(limit ? { payload: { limit: limit.value, origin: originOf(scope, limit.span) } } : {}),
    ...(power ? { power } : {}),
  };
}

function bodiesOf(scope: Scope, { bodies }: RigFields, joints: readonly ResolvedJoint[]): Body[] {
  const names = new Set<string>();
  return (bodies?.value ?? []).flatMap((stated): Body[] => {
    if (!stated) return [];
    const { name, on } = stated.value;
    if (name && names.has(name.value)) {
      report(scope, "duplicate-name", name.span, `Two bodies are called \`${name.value}\`: rename one.`);
    }
    if (name) names.add(name.value);
    const link = bindLink(scope, on, joints);
    const body = link === undefined ? undefined : resolveBody(scope, name?.value ?? on?.value ?? "body", link, stated);
    return body ? [body] : [];
  });
}

/** Pairs of bodies that are built to touch; one with a name that no body has is left out. */
export function touchingOf(
  scope: Scope,
  { touching }: RigFields,
  bodies: readonly Body[],
): readonly (readonly [string, string])[] {
  const known = [...new Set(bodies.map(({ name }) => name))];
  const space = { code: "unknown-axis", lacks: "There is no body", known, none: "The rig has none." } as const;
  return (touching?.value ?? []).flatMap((pair): (readonly [string, string])[] => {
    const [one, other] = (pair?.value ?? []).map((name) => bindName(scope, name, space));
    return one !== undefined && other !== undefined ? [[one, other]] : [];
  });
}

function massesOf(scope: Scope, { masses }: RigFields, joints: readonly ResolvedJoint[]): PointMass[] {
  return (masses?.value ?? []).flatMap((stated): PointMass[] => {
    const link = stated && bindLink(scope, stated.value.on, joints);
    if (!stated?.value.mass || link === undefined) return [];
    const { name, on, at, mass } = stated.value;
    const origin = originOf(scope, mass.span);
    return [{ name: name?.value ?? on?.value ?? "mass", link, at: vec3(at), mass: mass.value, origin }];
  });
}

function counterweightOf(
  scope: Scope,
  { counterweight }: RigFields,
  joints: readonly ResolvedJoint[],
): ResolvedRig["counterweight"] {
  const link = counterweight && bindLink(scope, counterweight.value.on, joints);
  if (!counterweight?.value.at || !counterweight.value.mass || link === undefined) return undefined;
  const { at, mass, tolerance } = counterweight.value;
  return {
    link,
    at: vec3(at),
    mass: mass.value,
    ...(tolerance ? { tolerance: tolerance.value } : {}),
    massOrigin: originOf(scope, mass.span),
    toleranceOrigin: tolerance ? originOf(scope, tolerance.span) : 0,
  };
}

function powerOf(scope: Scope, { power }: RigFields, joints: readonly ResolvedJoint[]): ResolvedRig["power"] {
  if (!power?.value.battery) return undefined;
  const { battery, usable, idle, axes } = power.value;
  const moving = joints.filter((joint) => joint.type !== "fixed").map((joint) => joint.name);
  const draws: Record<string, number> = {};
  for (const [name, { nameSpan, item }] of axes?.value ?? []) {
    const bound = bindName(scope, { value: name, span: nameSpan }, axisNames(moving));
    if (bound !== undefined) draws[bound] ??= item.value;
  }
  const origin = originOf(scope, battery.span);
  return { battery: battery.value, usable: usable?.value ?? 0.8, idle: idle?.value ?? 0, axes: draws, origin };
}

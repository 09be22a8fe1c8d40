import type { Vec2 } from "../base/vec3.ts";
import type { Body, PointMass, ResolvedJoint, ResolvedRig } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import type { Declared, Stated } from "./declared.ts";
import { report } from "./report.ts";
import { bindAxis } from "./bind-axis.ts";
import { axisNames, bindName } from "./bind-name.ts";
import { resolveBody } from "./resolve-solid.ts";
import type { Scope } from "./resolution.ts";
import { vec2, vec3 } from "./vectors.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];
type RigParts = Pick<ResolvedRig, "bodies" | "masses" | "counterweight" | "support" | "payload" | "power">;

/** What a rig carries and stands on. A broken part is left out. */
export function resolveRigParts(scope: Scope, fields: RigFields, joints: readonly ResolvedJoint[]): RigParts {
  const { payload } = fields;
  const counterweight = counterweightOf(scope, fields, joints);
  const support = supportOf(scope, fields);
  const power = powerOf(scope, fields, joints);
  return {
    bodies: bodiesOf(scope, fields, joints),
    masses: massesOf(scope, fields, joints),
    ...(counterweight ? { counterweight } : {}),
    ...(support ? { support } : {}),
    ...(payload?.value.limit ? { payload: { limit: payload.value.limit.value } } : {}),
    ...(power ? { power } : {}),
  };
}

/** The link that a name means, -1 for the base. */
function linkOf(
  scope: Scope,
  stated: Stated<string> | undefined,
  joints: readonly ResolvedJoint[],
): number | undefined {
  if (!stated) return undefined;
  return stated.value === "base" ? -1 : bindAxis(scope, stated, joints);
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
    const link = linkOf(scope, on, joints);
    const body = link === undefined ? undefined : resolveBody(scope, name?.value ?? on?.value ?? "body", link, stated);
    return body ? [body] : [];
  });
}

function massesOf(scope: Scope, { masses }: RigFields, joints: readonly ResolvedJoint[]): PointMass[] {
  return (masses?.value ?? []).flatMap((stated): PointMass[] => {
    const link = stated && linkOf(scope, stated.value.on, joints);
    if (!stated?.value.mass || link === undefined) return [];
    const { name, on, at, mass } = stated.value;
    return [{ name: name?.value ?? on?.value ?? "mass", link, at: vec3(at), mass: mass.value }];
  });
}

function counterweightOf(
  scope: Scope,
  { counterweight }: RigFields,
  joints: readonly ResolvedJoint[],
): ResolvedRig["counterweight"] {
  const link = counterweight && linkOf(scope, counterweight.value.on, joints);
  if (!counterweight?.value.at || !counterweight.value.mass || link === undefined) return undefined;
  return { link, at: vec3(counterweight.value.at), mass: counterweight.value.mass.value };
}

function supportOf(scope: Scope, { support }: RigFields): readonly Vec2[] | undefined {
  if (!support) return undefined;
  if (support.value.length < 3) {
    report(scope, "wrong-type", support.span, "`support` is a polygon: give three corners [x, y] or more.");
    return undefined;
  }
  const corners = support.value.flatMap((corner) => (corner ? [vec2(corner)] : []));
  return corners.length === support.value.length ? corners : undefined;
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
  return { battery: battery.value, usable: usable?.value ?? 0.8, idle: idle?.value ?? 0, axes: draws };
}

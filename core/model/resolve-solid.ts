import { listing } from "../base/listing.ts";
import { resolveReference } from "../base/path.ts";
import type { Vec3 } from "../base/vec3.ts";
import type { Body, Solid } from "../rig/resolved-rig.ts";
import type { solidFields } from "../schema/shared-fields.ts";
import type { Declared, DeclaredFields, Stated, StatedFields } from "./declared.ts";
import { brokenMessage, formatMessage, isMeshFile, NOT_MEASURED, sizeMessage } from "./mesh-file.ts";
import { meshHull } from "./mesh-hull.ts";
import { originOf, readInput, reportUnopened, type Scope } from "./resolution.ts";
import { headOf } from "./read.ts";
import { report } from "./report.ts";
import { pose, vec3 } from "./vectors.ts";

type Solids = DeclaredFields<ReturnType<typeof solidFields>>;
type Numbers = Stated<readonly Stated<number>[]>;

const SHAPES = ["box", "cylinder", "capsule", "sphere", "mesh"] as const;

/** True for a field that the text states, broken or not. */
export const isGiven = (stated: Stated<object>, field: string): boolean => Object.hasOwn(stated.value, field);

/** What a body is for: `drawn` ones stop nothing, so nothing is said of clearances that are not measured to them. */
export type BodyUse = "measured" | "drawn";

/** A body on a link, or standing in the set (link -1); `undefined` after a finding. */
export function resolveBody(
  scope: Scope,
  name: string,
  link: number,
  stated: StatedFields<Solids & { readonly at?: Numbers; readonly turn?: Numbers }>,
  use: BodyUse = "measured",
): Body | undefined {
  const given = SHAPES.filter((shape) => isGiven(stated, shape));
  if (given.length !== 1) {
    const many = given.length > 1;
    const message = many
      ? `\`${name}\` has ${listing(given, "and")}: a body has one shape. Make two bodies of it.`
      : `\`${name}\` has no shape: give it one of ${listing(SHAPES)}.`;
    report(scope, many ? "over-determined" : "missing-field", headOf(stated), message);
    return undefined;
  }
  const solid = solidOf(scope, stated.value, use);
  if (!solid) return undefined;
  return { name, link, pose: pose(stated.value.at, stated.value.turn), solid, origin: originOf(scope, stated.span) };
}

function solidOf(scope: Scope, { box, cylinder, capsule, sphere, mesh }: Solids, use: BodyUse): Solid | undefined {
  if (box) return { shape: "box", size: vec3(box) };
  if (cylinder) return upright(scope, "cylinder", cylinder);
  if (capsule) return upright(scope, "capsule", capsule);
  if (sphere?.value.radius) return { shape: "sphere", radius: sphere.value.radius.value };
  if (mesh?.value.file) {
    const { file, scale } = mesh.value;
    const size = scale?.value ?? 1;
    return meshOf(scope, file, [size, size, size], use === "measured" ? ` ${NOT_MEASURED}` : "");
  }
  return undefined;
}

/** @param then What follows for the checks where it can't be read. */
function meshOf(scope: Scope, reference: Stated<string>, scale: Vec3, then: string): Solid {
  const file = resolveReference(scope.file, reference.value);
  if (!isMeshFile(file)) {
    const message = formatMessage(`\`${reference.value}\``, false);
    report(scope, "not-computed", reference.span, `${message}${then}`, { severity: "warning" });
    return { shape: "mesh", file, scale };
  }
  const source = readInput(scope.resolution, file);
  reportUnopened(scope, reference, source, file);
  const message = sizeMessage(file, source);
  if (message !== undefined) {
    report(scope, "too-large", reference.span, `${message}${then}`, { severity: "warning" });
  }
  const hull = meshHull(scope.resolution, file, scale);
  if (hull && "fault" in hull) {
    report(scope, "not-computed", reference.span, `${brokenMessage(reference.value, hull.fault)}${then}`, {
      severity: "warning",
    });
    return { shape: "mesh", file, scale };
  }
  return { shape: "mesh", file, scale, ...hull };
}

function upright(
  scope: Scope,
  shape: "cylinder" | "capsule",
  { value, span }: NonNullable<Declared<ReturnType<typeof solidFields>["cylinder"]>>,
): Solid | undefined {
  const { radius, height } = value;
  if (!radius || !height) return undefined;
  if (shape === "capsule" && height.value < 2 * radius.value) {
    report(scope, "bad-number", span, "`height` of a capsule includes its caps: it must be twice `radius` or more.");
    return undefined;
  }
  return { shape, radius: radius.value, height: height.value };
}

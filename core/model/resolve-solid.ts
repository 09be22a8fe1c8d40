import { listing } from "../base/listing.ts";
import { resolveReference } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import type { Body, Solid } from "../rig/resolved-rig.ts";
import type { solidFields } from "../schema/shared-fields.ts";
import type { Declared, DeclaredFields, Stated, StatedFields } from "./declared.ts";
import { formatMessage, isMeshFile, sizeMessage } from "./mesh-file.ts";
import { originOf, readInput, reportUnopened, type Scope } from "./resolution.ts";
import { headOf } from "./read.ts";
import { report } from "./report.ts";
import { pose, vec3 } from "./vectors.ts";

type Solids = DeclaredFields<ReturnType<typeof solidFields>>;
type Numbers = Stated<readonly Stated<number>[]>;

const SHAPES = ["box", "cylinder", "capsule", "sphere", "mesh"] as const;

/** True for a field that the text states, broken or not. */
export const isGiven = (stated: Stated<object>, field: string): boolean => Object.hasOwn(stated.value, field);

/** A body on a link, or standing in the set (link -1); `undefined` after a finding. */
export function resolveBody(
  scope: Scope,
  name: string,
  link: number,
  stated: StatedFields<Solids & { readonly at?: Numbers; readonly turn?: Numbers }>,
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
  const solid = solidOf(scope, stated.value);
  if (!solid) return undefined;
  return { name, link, pose: pose(stated.value.at, stated.value.turn), solid, origin: originOf(scope, stated.span) };
}

function solidOf(scope: Scope, { box, cylinder, capsule, sphere, mesh }: Solids): Solid | undefined {
  if (box) return { shape: "box", size: vec3(box) };
  if (cylinder) return upright(scope, "cylinder", cylinder);
  if (capsule) return upright(scope, "capsule", capsule);
  if (sphere?.value.radius) return { shape: "sphere", radius: sphere.value.radius.value };
  if (mesh?.value.file) {
    const { file, scale } = mesh.value;
    const size = scale?.value ?? 1;
    return { shape: "mesh", file: meshOf(scope, file), scale: [size, size, size] };
  }
  return undefined;
}

function meshOf(scope: Scope, reference: Stated<string>): FileId {
  const file = resolveReference(scope.file, reference.value);
  if (!isMeshFile(file)) {
    const message = formatMessage(`\`${reference.value}\``, false);
    report(scope, "not-computed", reference.span, message, { severity: "warning" });
    return file;
  }
  const source = readInput(scope.resolution, file);
  reportUnopened(scope, reference, source, file);
  const message = sizeMessage(file, source);
  if (message !== undefined) report(scope, "too-large", reference.span, message, { severity: "warning" });
  return file;
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

import { baseName } from "../base/path.ts";
import type { FileId, Span } from "../base/span.ts";
import { distortionIsMonotone } from "../lens/monotone.ts";
import type { Distortion, ResolvedOptics } from "../lens/resolved-optics.ts";
import type { cameraDocument } from "../schema/camera-fields.ts";
import { bindName } from "./bind-name.ts";
import type { Declared, Stated } from "./declared.ts";
import type { Document } from "./load-document.ts";
import { motorsOf } from "./motor-rows.ts";
import { pupilOf } from "./pupil-rows.ts";
import { report, type Reporter } from "./report.ts";
import {
  beginResolution,
  finish,
  finishUnopened,
  openFile,
  originOf,
  scopeOf,
  type DocumentMemo,
  type ResolutionFacts,
  type Scope,
} from "./resolution.ts";
import type { Sources } from "./sources.ts";
import { vec2, vec3 } from "./vectors.ts";

export interface OpticsResolution extends ResolutionFacts {
  /** Each lens with the body, by the lens's name; broken ones are left out. */
  readonly optics: ReadonlyMap<string, ResolvedOptics>;
}

type CameraFields = NonNullable<Declared<typeof cameraDocument>>["value"];
type BodyFields = NonNullable<CameraFields["body"]>["value"];
type LensEntry = NonNullable<CameraFields["lenses"]>["value"] extends ReadonlyMap<string, infer Entry> ? Entry : never;
type LensFields = NonNullable<LensEntry["item"]>["value"];

/** Reads and binds the camera of a file, with each of its lenses. Problems are those of this file. */
export function resolveOptics(file: FileId, sources: Sources, memo?: DocumentMemo): OpticsResolution {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "camera");
  if (!("kind" in opened)) return { optics: new Map(), ...finishUnopened(resolution) };
  const scope = scopeOf(opened, resolution);
  return { optics: opticsOf(scope, opened), ...finish(scope) };
}

/** Every lens of a camera that is read already; findings go to `scope`. */
export function opticsOf(scope: Scope, { declared, file }: Document<"camera">): ReadonlyMap<string, ResolvedOptics> {
  const optics = new Map<string, ResolvedOptics>();
  const fields = declared?.value;
  const body = fields?.body?.value;
  if (!fields || !body?.sensor || !body.resolution || !body.flange) return optics;
  const common = {
    cameraName: fields.name?.value ?? baseName(file).replace(/\.camera\.\w+$/i, ""),
    ...bodyOf(scope, body),
    attachments: attachmentsOf(scope, fields),
    shutter: fields.shutter?.value ?? Math.PI,
    shutterOrigin: fields.shutter ? originOf(scope, fields.shutter.span) : 0,
    resolutionOrigin: originOf(scope, body.resolution.span),
  };
  for (const [name, { nameSpan, item }] of fields.lenses?.value ?? []) {
    const lens = item && lensOf(scope, item.value);
    if (!lens) continue;
    const whole = { ...common, ...lens, lensName: name, origin: originOf(scope, nameSpan) };
    optics.set(name, whole);
    if (item.value.distortion) checkDistortion(scope, whole, item.value.distortion.span);
  }
  return optics;
}

/** How far the aspects of sensor and resolution may differ: 0.5 %. */
const ASPECT_TOLERANCE = 0.005;

type BodyValues = Pick<
  ResolvedOptics,
  "sensor" | "resolution" | "flange" | "bodyMass" | "bodyMassAt" | "bodyMassOrigin" | "coc" | "cocOrigin"
>;

function bodyOf(scope: Scope, fields: BodyFields): BodyValues {
  const { sensor, resolution, flange, mass, coc } = fields;
  const [width, height] = vec2(sensor);
  const [across, down] = vec2(resolution);
  const ratio = (width * down) / (height * across);
  if (resolution && Math.abs(ratio - 1) > ASPECT_TOLERANCE) {
    const aspects = `${(width / height).toFixed(4)} of the sensor, ${(across / down).toFixed(4)} of the pixels`;
    const message = `\`sensor\` is the area recorded as \`resolution\`, but their aspects differ by ${(Math.abs(ratio - 1) * 100).toFixed(2)} % (${aspects}): give the area that is recorded.`;
    report(scope, "sensor-aspect", resolution.span, message, { severity: "warning" });
  }
  return {
    sensor: [width, height],
    resolution: [across, down],
    flange: flange?.value ?? 0,
    bodyMass: mass?.value ?? 0,
    bodyMassAt: vec3(fields["mass-at"], [-(flange?.value ?? 0), 0, 0]),
    bodyMassOrigin: mass ? originOf(scope, mass.span) : 0,
    coc: coc?.value ?? Math.hypot(width, height) / 1500,
    cocOrigin: coc ? originOf(scope, coc.span) : 0,
  };
}

type LensValues = Omit<
  ResolvedOptics,
  | keyof BodyValues
  | "cameraName"
  | "lensName"
  | "attachments"
  | "shutter"
  | "shutterOrigin"
  | "resolutionOrigin"
  | "origin"
>;

function lensOf(scope: Scope, fields: LensFields): LensValues | undefined {
  const focal = focalOf(scope, fields);
  const pupil = focal && pupilOf(scope, fields, focal);
  if (!focal || !pupil) return undefined;
  const close = fields["close-focus"];
  const distortion = distortionOf(scope, fields);
  const front = fields.front?.value;
  const squeeze = fields.squeeze?.value ?? 1;
  const centre = vec2(fields.centre);
  const motors = motorsOf(scope, fields.motors);
  return {
    focal,
    pupil,
    lensMass: fields.mass?.value ?? 0,
    lensMassAt: vec3(fields["mass-at"], [(front?.length?.value ?? 0) / 2, 0, 0]),
    lensMassOrigin: fields.mass ? originOf(scope, fields.mass.span) : 0,
    iris: fields.iris?.value ?? 4,
    closeFocus: close?.value ?? 0,
    closeFocusOrigin: close ? originOf(scope, close.span) : 0,
    squeeze,
    ...(distortion ? { distortion } : {}),
    ...(0 < motors.length ? { motors } : {}),
    centre,
    ...(front?.length && front.diameter
      ? { front: { length: front.length.value, diameter: front.diameter.value } }
      : {}),
  };
}

function focalOf(scope: Scope, { focal }: LensFields): ResolvedOptics["focal"] | undefined {
  if (!focal) return undefined;
  if (typeof focal.value === "number") return { low: focal.value, high: focal.value };
  const [low, high] = vec2(focal as Stated<readonly Stated<number>[]>);
  if (low < high) return { low, high };
  report(
    scope,
    "bad-number",
    focal.span,
    "`focal` of a zoom is [shortest, longest]: its first value must be less than its second.",
  );
  return undefined;
}

function distortionOf(scope: Scope, { distortion }: LensFields): Distortion | undefined {
  if (!distortion) return undefined;
  const { k, p } = distortion.value;
  if (k && k.value.length > 3) {
    report(scope, "wrong-type", k.span, "`k` holds at most three coefficients: k1, k2, k3.");
    return undefined;
  }
  const [k1 = 0, k2 = 0, k3 = 0] = (k?.value ?? []).map((each) => each?.value ?? 0);
  const [p1, p2] = vec2(p);
  return [k1, k2, k3, p1, p2].some((each) => each !== 0) ? { k1, k2, p1, p2, k3 } : undefined;
}

/** Where the distortion folds the picture over itself inside the frame, a point has no one place in it. */
function checkDistortion(scope: Scope, optics: ResolvedOptics, span: Span): void {
  if (distortionIsMonotone(optics, optics.focal.low)) return;
  const message = `The distortion of \`${optics.lensName}\` turns back inside the picture, so that two points of the set fall on one pixel: check the signs and the order of k and p.`;
  report(scope, "bad-number", span, message);
}

function attachmentsOf(scope: Scope, { attachments }: CameraFields): ResolvedOptics["attachments"] {
  return (attachments?.value ?? []).flatMap((stated) => {
    const { name, box, at, mass } = stated?.value ?? {};
    if (!name || !box || !at) return [];
    const massOrigin = mass ? originOf(scope, mass.span) : 0;
    return [{ name: name.value, box: vec3(box), at: vec3(at), mass: mass?.value ?? 0, massOrigin }];
  });
}

/** The lens that a name means; a finding where there is none of it. One of `names` that is broken has its own. */
export function bindLens(
  to: Reporter,
  stated: Stated<string>,
  names: readonly string[],
  optics: ReadonlyMap<string, ResolvedOptics>,
): ResolvedOptics | undefined {
  const space = {
    code: "unknown-lens",
    lacks: "The camera has no lens",
    known: names,
    none: "It has no lenses.",
  } as const;
  const name = bindName(to, stated, space);
  return name === undefined ? undefined : optics.get(name);
}

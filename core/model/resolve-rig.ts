import { baseName } from "../base/path.ts";
import type { FileId, Span } from "../base/span.ts";
import type { ResolvedJoint, ResolvedRig } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import type { Declared, Stated } from "./declared.ts";
import type { Document } from "./load-document.ts";
import { bindAxis } from "./bind-axis.ts";
import { bindFollowers } from "./bind-followers.ts";
import { checkChain } from "./check-chain.ts";
import { headOf } from "./read.ts";
import { report } from "./report.ts";
import { resolveJoint, type UnboundJoint } from "./resolve-joint.ts";
import { resolveRigParts, touchingOf } from "./resolve-rig-parts.ts";
import { resolveUrdf, type UrdfChain } from "./resolve-urdf.ts";
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
import { pose } from "./vectors.ts";

export interface RigResolution extends ResolutionFacts {
  /** Absent when the chain is not wholly known. */
  readonly rig?: ResolvedRig;
}

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];

/** Reads and binds the rig of a file: names bound, SI, defaults filled. Problems are those of this file. */
export function resolveRig(file: FileId, sources: Sources, memo?: DocumentMemo): RigResolution {
  const resolution = beginResolution(sources, memo);
  const opened = openFile(resolution, file, "rig");
  if (!("kind" in opened)) return finishUnopened(resolution);
  const scope = scopeOf(opened, resolution);
  const rig = rigOf(scope, opened);
  return rig ? { rig, ...finish(scope) } : finish(scope);
}

/** The rig of a document that is read already; findings go to `scope`. */
export function rigOf(scope: Scope, document: Document<"rig">): ResolvedRig | undefined {
  const { declared } = document;
  if (!declared) return undefined;
  const fields = declared.value;
  const origin = originOf(scope, document.tree.root ?? { start: 0, end: 0 });
  const chain = chainOf(scope, fields, headOf(declared));
  const joints = chain?.joints;
  const bound = joints && bindHead(scope, fields, joints);
  if (!chain || !joints || !bound) return undefined;
  const mount = fields["camera-mount"]?.value;
  const parts = resolveRigParts(scope, fields, joints);
  const bodies = [...chain.bodies, ...parts.bodies];
  const touching = touchingOf(scope, fields, bodies);
  const rig: ResolvedRig = {
    name: fields.name?.value ?? baseName(document.file).replace(/\.rig\.\w+$/i, ""),
    joints,
    ...(bound.head ? { head: bound.head } : {}),
    mount: pose(mount?.at, mount?.turn),
    ...parts,
    bodies,
    ...(touching.length > 0 ? { touching } : {}),
    masses: [...chain.masses, ...parts.masses],
    origin,
  };
  if (rig.masses.length === 0 && !("masses" in fields)) reportNoMasses(scope, fields, rig);
  if (hasBrokenChain(scope, document)) return undefined;
  checkChain(scope, fields, rig);
  return hasBrokenChain(scope, document) ? undefined : rig;
}

/** What balances or stands is of use only where the rig says what it weighs. */
function reportNoMasses(scope: Scope, fields: RigFields, rig: ResolvedRig): void {
  const uses = { counterweight: "whether it balances the arm", support: "whether the rig may tip over" } as const;
  for (const name of ["counterweight", "support"] as const) {
    const span = rig[name] && fields[name]?.span;
    const message = `\`${name}\` is stated without \`masses\`, so ${uses[name]} is not told: list what the links weigh.`;
    if (span) report(scope, "missing-field", span, message, { severity: "information" });
  }
}

/** The chain as `chain` lists it or a URDF file states it, with what the file says that its links carry. */
function chainOf(scope: Scope, fields: RigFields, head: Span): UrdfChain | undefined {
  const { urdf, chain } = fields;
  if ("urdf" in fields) {
    if ("chain" in fields) {
      const message = "`chain` and `urdf` both say what the links are: delete one of them.";
      report(scope, "over-determined", fields.chain?.span ?? head, message);
      return undefined;
    }
    return urdf && resolveUrdf(scope, fields, urdf);
  }
  reportUrdfOnly(scope, fields);
  if (!("chain" in fields)) {
    const message =
      "`rig` lacks `chain`, the list of its links from the base to the camera, or `urdf`, a file of them.";
    report(scope, "missing-field", head, message);
  }
  if (chain && chain.value.length === 0) {
    report(scope, "degenerate-chain", chain.span, "`chain` is empty: a rig has one link or more.");
    return undefined;
  }
  const unbound = chain && resolveChain(scope, fields);
  const joints = unbound && bindFollowers(scope, unbound);
  return joints && { joints, bodies: [], masses: [] };
}

function reportUrdfOnly(scope: Scope, fields: RigFields): void {
  for (const name of ["axes", "tip"] as const) {
    const span = fields[name]?.span;
    const where = name === "axes" ? "write it with the axis in `chain`" : "the mount is on the last link of `chain`";
    if (span) report(scope, "over-determined", span, `\`${name}\` goes with \`urdf\`: ${where}.`);
  }
}

/** All links or nothing: with one missing, no pose is known. The second of two equal names is a finding. */
function resolveChain(scope: Scope, { chain }: RigFields): UnboundJoint[] | undefined {
  const links: UnboundJoint[] = [];
  const names = new Set<string>();
  let whole = true;
  for (const fields of chain?.value ?? []) {
    const link = fields && resolveJoint(scope, fields);
    if (!link) {
      whole = false;
      continue;
    }
    const { name } = link.joint;
    if (names.has(name) || name === "base") {
      const why = name === "base" ? "`base` is the name of the base" : `\`${name}\` stands twice in the chain`;
      report(
        scope,
        "duplicate-name",
        fields.value.axis?.span ?? fields.span,
        `${why}: each link has a name of its own.`,
      );
      whole = false;
    }
    names.add(name);
    links.push(link);
  }
  return whole ? links : undefined;
}

function bindHead(
  scope: Scope,
  fields: RigFields,
  joints: readonly ResolvedJoint[],
): { readonly head?: ResolvedRig["head"] } | undefined {
  if (!("head" in fields)) return {};
  const stated = fields.head?.value;
  if (!stated?.pan || !stated.tilt || ("roll" in stated && !stated.roll)) return undefined;
  const pan = bindHeadAxis(scope, "pan", stated.pan, joints);
  const tilt = bindHeadAxis(scope, "tilt", stated.tilt, joints);
  const roll = stated.roll && bindHeadAxis(scope, "roll", stated.roll, joints);
  if (pan === undefined || tilt === undefined || (stated.roll && roll === undefined)) return undefined;
  if (pan === tilt || pan === roll || tilt === roll) {
    report(
      scope,
      "degenerate-chain",
      fields.head?.span ?? stated.pan.span,
      "`head`: pan, tilt and roll are different axes.",
    );
    return undefined;
  }
  return { head: roll === undefined ? { pan, tilt } : { pan, tilt, roll } };
}

function bindHeadAxis(
  scope: Scope,
  part: string,
  stated: Stated<string>,
  joints: readonly ResolvedJoint[],
): number | undefined {
  const index = bindAxis(scope, stated, joints);
  if (index === undefined) return undefined;
  const { type, role } = joints[index];
  if (type === "rotary" && role === "driven") return index;
  const is = type !== "rotary" ? `is ${type}` : role === "setup" ? "is set before the take" : "follows another axis";
  const message = `\`${part}\` of the head must turn and be driven in the take, but \`${stated.value}\` ${is}.`;
  report(scope, "degenerate-chain", stated.span, message, { axis: stated.value });
  return undefined;
}

/** True when an error stands in what the geometry is made of; then no pose of this rig can be trusted. */
function hasBrokenChain(scope: Scope, document: Document<"rig">): boolean {
  const root = document.tree.root;
  const parts = root?.kind === "map" ? root.entries.filter((entry) => GEOMETRY.has(entry.name)) : [];
  return scope.problems.some(({ code, severity, place: { span } }) => {
    if (severity !== "error") return false;
    if (code === "syntax") return true;
    return parts.some((part) => part.start <= span.start && span.start <= part.end);
  });
}

const GEOMETRY: ReadonlySet<string> = new Set(["chain", "tip", "axes", "head", "camera-mount"]);

import { listing } from "../base/listing.ts";
import { nearestName } from "../base/nearest-name.ts";
import { resolveReference } from "../base/path.ts";
import type { Body, PointMass, ResolvedJoint } from "../rig/resolved-rig.ts";
import type { rigDocument } from "../schema/rig-fields.ts";
import { serialChain, type SerialChain } from "../urdf/serial-chain.ts";
import { axisNames, bindName } from "./bind-name.ts";
import type { Declared, Stated, StatedEntry } from "./declared.ts";
import { replacement, report } from "./report.ts";
import type { Scope } from "./resolution.ts";
import { urdfLoads } from "./urdf-bodies.ts";
import { openUrdf, reportAt, reportUrdf, type UrdfReporter } from "./urdf-file.ts";
import { urdfJoint, type UrdfAxis } from "./urdf-joint.ts";
import { bindMimics } from "./urdf-mimics.ts";

type RigFields = NonNullable<Declared<typeof rigDocument>>["value"];

/** What a URDF file gives to a rig, with what the rig says beside it. */
export interface UrdfChain {
  readonly joints: readonly ResolvedJoint[];
  readonly bodies: readonly Body[];
  readonly masses: readonly PointMass[];
}

/** The chain of the URDF file that a rig names; `undefined` after a finding that leaves no pose known. */
export function resolveUrdf(scope: Scope, fields: RigFields, reference: Stated<string>): UrdfChain | undefined {
  const urdf = openUrdf(scope, reference, resolveReference(scope.file, reference.value));
  if (!urdf) return undefined;
  const to: UrdfReporter = { scope, reference, urdf };
  const isBroken = reportUrdf(to, urdf.reading.problems);
  reportUrdf(to, urdf.reading.loads);
  const chain = isBroken ? undefined : chainOf(to, fields.tip);
  if (!chain) return undefined;
  const beside = besideOf(scope, fields, chain);
  const before = scope.problems.length;
  const joints = chain.joints.map((joint) => urdfJoint(to, joint, beside.get(joint.name.value)));
  const hasErrors = scope.problems.slice(before).some(({ severity }) => severity === "error");
  if (hasErrors || joints.includes(undefined)) return undefined;
  const bound = bindMimics(to, chain, joints as Omit<ResolvedJoint, "follows">[]);
  if (!bound) return undefined;
  reportLeft(to, chain);
  return { joints: bound, ...urdfLoads(to, chain) };
}

function chainOf(to: UrdfReporter, tip: Stated<string> | undefined): SerialChain | undefined {
  const { urdf } = to.urdf.reading;
  const links = urdf.links.map(({ name }) => name.value);
  if (tip && !links.includes(tip.value)) {
    const nearest = nearestName(tip.value, links);
    const advice = nearest ? `Did you mean \`${nearest}\`?` : `Its links: ${listing(links, "and")}.`;
    const message = `\`tip\`: there is no link \`${tip.value}\` in \`${to.reference.value}\`. ${advice}`;
    const cures = nearest ? { cures: [replacement(to.scope, tip.span, nearest)] } : {};
    report(to.scope, "missing-field", tip.span, message, cures);
    return undefined;
  }
  const chain = serialChain(urdf, tip?.value);
  if ("joints" in chain) return chain;
  reportUrdf(to, chain.problems);
  if (chain.tips) {
    const message = `The arm in \`${to.reference.value}\` ends in ${listing(chain.tips, "and")}: say with \`tip\` which of its links the camera mount is on.`;
    report(to.scope, "missing-field", to.reference.span, message);
  }
  return undefined;
}

/** What `axes` says, by the name of the joint. */
function besideOf(
  scope: Scope,
  { axes }: RigFields,
  { joints }: SerialChain,
): ReadonlyMap<string, StatedEntry<UrdfAxis>> {
  const names = joints.map(({ name }) => name.value);
  const moving = joints.filter(({ type }) => type !== "fixed").map(({ name }) => name.value);
  const beside = new Map<string, StatedEntry<UrdfAxis>>();
  for (const [written, { nameSpan, item }] of axes?.value ?? []) {
    const known = names.includes(written) ? names : moving;
    const name = bindName(scope, { value: written, span: nameSpan }, axisNames(known));
    if (name !== undefined && item && !beside.has(name)) beside.set(name, { nameSpan, item });
  }
  return beside;
}

/** Links that move beside the chain are no part of it, which may be a surprise. */
function reportLeft(to: UrdfReporter, { left, tip }: SerialChain): void {
  if (left.length === 0) return;
  const names = listing(
    left.map(({ name }) => name.value),
    "and",
    6,
  );
  const message = `${names}: moved by joints that are not between the root and \`${tip}\`, so left out with all that they carry.`;
  reportAt(to, "not-computed", left[0].name.span, message, "information");
}

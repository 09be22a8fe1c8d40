import { nearestName } from "../base/nearest-name.ts";
import type { ResolvedJoint } from "../rig/resolved-rig.ts";
import type { SerialChain } from "../urdf/serial-chain.ts";
import { reportAt, type UrdfReporter } from "./urdf-file.ts";

/** Joints with their leaders bound; `undefined` after a finding. Indices are those of `chain.joints`. */
export function bindMimics(
  to: UrdfReporter,
  chain: SerialChain,
  joints: readonly Omit<ResolvedJoint, "follows">[],
): ResolvedJoint[] | undefined {
  const names = joints.map(({ name }) => name);
  let whole = true;
  const bound = joints.map((joint, index): ResolvedJoint => {
    const { mimic } = chain.joints[index];
    if (!mimic) return joint;
    const leader = names.indexOf(mimic.joint.value);
    if (leader >= 0 && joints[leader].type !== "fixed") {
      return { ...joint, follows: { leader, ratio: mimic.multiplier, offset: mimic.offset } };
    }
    whole = false;
    if (leader >= 0) {
      const message = `\`${joint.name}\` mimics \`${mimic.joint.value}\`, which is fixed and never moves.`;
      reportAt(to, "degenerate-chain", mimic.joint.span, message);
    } else reportUnknown(to, chain, joint.name, mimic.joint);
    return joint;
  });
  return whole && !hasCircle(to, chain, bound) ? bound : undefined;
}

function reportUnknown(
  to: UrdfReporter,
  { tip }: SerialChain,
  name: string,
  mimicked: { readonly value: string; readonly span: { readonly start: number; readonly end: number } },
): void {
  const { joints } = to.urdf.reading.urdf;
  const known = joints.map((joint) => joint.name.value);
  const nearest = nearestName(mimicked.value, known);
  const isBeside = known.includes(mimicked.value);
  const why = isBeside
    ? `which is not between the root and the tip \`${tip}\`, so nothing drives it here`
    : `but there is no such joint.${nearest ? ` Did you mean \`${nearest}\`?` : ""}`;
  const message = `\`${name}\` mimics \`${mimicked.value}\`, ${why}`.replace(/\.?$/, nearest && !isBeside ? "" : ".");
  reportAt(to, isBeside ? "degenerate-chain" : "unknown-axis", mimicked.span, message);
}

/** One finding for each circle, at its first joint. */
function hasCircle(to: UrdfReporter, chain: SerialChain, joints: readonly ResolvedJoint[]): boolean {
  const seen = new Set<number>();
  let found = false;
  joints.forEach((_, start) => {
    const trail: number[] = [];
    let at: number | undefined = start;
    while (at !== undefined && !seen.has(at)) {
      seen.add(at);
      trail.push(at);
      at = joints[at].follows?.leader;
    }
    if (at === undefined || !trail.includes(at)) return;
    const circle = [...trail.slice(trail.indexOf(at)), at].map((index) => `\`${joints[index].name}\``);
    const span = chain.joints[at].mimic?.joint.span ?? chain.joints[at].name.span;
    const message = `${circle.join(" mimics ")}: a circle of joints has no leader.`;
    reportAt(to, "degenerate-chain", span, message);
    found = true;
  });
  return found;
}
